namespace RotationStudy.Statistics.Regression;

/// <summary>How the rate of a counted event depends on columns.</summary>
/// <remarks>
/// <para><b>Model</b>: y is Poisson with log E(y) = x'b + offset; with the log of the time at risk as offset exp(b) is the rate ratio of one
/// unit of a column, the others held. The variance equals the mean given x; where it does not, the
/// coefficients stay right and the cluster-robust variance is the one to use.</para>
/// <para><b>Fit</b>: maximum likelihood by Newton's method with step halving, from the common rate. It stops when the squared length of the
/// Newton step, in standard errors, is under 1e-18.</para>
/// <para><b>Variance</b>: inverse information X'WX, w = m, for independent Poisson rows; with clusters the sandwich as <see cref="ClusterVariance"/> names it,
/// CR2 with Satterthwaite degrees of freedom by default. No dispersion is estimated.</para>
/// <para><b>Edges</b>: a group of rows without any event sends its coefficient to minus infinity: a separation error names it (Correia, Guimaraes and
/// Zylkin 2019). No event at all: too few data. A row without time at risk has no offset: leave it out. Case weights count a row as so many rows.</para>
/// <para><b>Sources</b>: McCullagh P, Nelder JA. Generalized Linear Models, 2nd ed. 1989, ch. 6; Correia S, Guimaraes P, Zylkin T. arXiv:1903.01633 (2019).</para>
/// <para><b>Checked against</b>: Counts/epilepsy, Peers.</para>
/// </remarks>
public static class PoissonRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p; ask for its intercept.</param>
    /// <param name="counts">Whole numbers from zero, length n.</param>
    /// <param name="logExposure">Offset: the natural log of the time (or number) at risk per row, or none for equal exposures.</param>
    /// <param name="clusters">Which rows may be dependent; null takes all as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">A count that is none, an exposure of zero (log minus infinity), NaN, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, fewer rows than columns, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    /// <exception cref="SeparationError">The columns mark off rows without any event.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static GeneralizedLinearFit Fit(
        DesignMatrix x,
        ReadOnlySpan<double> counts,
        ReadOnlySpan<double> logExposure = default,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> weights = default)
    {
        options ??= GeneralizedLinearOptions.Default;
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Count, binary: false, counts, logExposure, weights);
        GeneralizedLinearSolver<PoissonFamily> solver = new(default, x, data);
        solver.Maximize(GeneralizedLinearStart.LogLink(x, data), options);
        return GeneralizedLinearFit.From("Poisson", default, solver, x, data, clusters, options) with
        {
            Link = MeanLink.Log,
            Refit = other => GeneralizedLinearSolver<PoissonFamily>.Refit(default, x, data, other, solver.Values, options),
        };
    }
}
