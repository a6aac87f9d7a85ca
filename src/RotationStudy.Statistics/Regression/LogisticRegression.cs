namespace RotationStudy.Statistics.Regression;

/// <summary>How the odds of a binary outcome depend on columns.</summary>
/// <remarks>
/// <para><b>Model</b>: log(P(y = 1) / P(y = 0)) = x'b + offset, with y of n rows in 0 and 1, x of p columns; exp(b) is the odds ratio of one unit of
/// a column, the others held. Rows are independent given x, or independent between clusters where clusters are named.</para>
/// <para><b>Fit</b>: maximum likelihood by Newton's method with step halving, from the model without effects. It stops when the squared length
/// of the Newton step, in standard errors, is under 1e-18, well past the default settings of most libraries.</para>
/// <para><b>Variance</b>: inverse information X'WX, w = m(1 - m), for independent rows; with clusters the sandwich of Liang and Zeger
/// as <see cref="ClusterVariance"/> names it, CR2 with Satterthwaite degrees of freedom by default.
/// Libraries differ: several use G/(G-1) alone (CR1ClustersOnly) or nothing (CR0).
/// Likelihood-ratio and score tests take rows as independent; with clusters use the Wald test of the coefficients.</para>
/// <para><b>Edges</b>: complete and quasi-complete separation is an error that names the columns: see <see cref="SeparationDetection"/> and
/// <see cref="FirthLogisticRegression"/>. No event, or events only, and fewer rows than columns: too few data. A column that depends on others: named.
/// Case weights count a row as so many rows; rows of weight zero take no part; weights need not be whole.</para>
/// <para><b>Sources</b>: McCullagh P, Nelder JA. Generalized Linear Models, 2nd ed. 1989, ch. 4; Albert A, Anderson JA. Biometrika 1984;71:1-10
/// (existence); Liang KY, Zeger SL. Biometrika 1986;73:13-22; Peduzzi P et al. J Clin Epidemiol 1996;49:1373-1379 (events per parameter).</para>
/// <para><b>Checked against</b>: Binary/birthwt, Peers.</para>
/// </remarks>
public static class LogisticRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p; ask for its intercept.</param>
    /// <param name="outcome">0 or 1 per row, length n.</param>
    /// <param name="clusters">Which rows may be dependent; null takes all as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="offset">A known part of the log odds per row, or none.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">An outcome that is neither 0 nor 1, NaN, infinity, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, events only, fewer rows than columns, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    /// <exception cref="SeparationError">The columns split the outcome.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static GeneralizedLinearFit Fit(
        DesignMatrix x,
        ReadOnlySpan<double> outcome,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> offset = default,
        ReadOnlySpan<double> weights = default)
    {
        options ??= GeneralizedLinearOptions.Default;
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Binary, binary: true, outcome, offset, weights);
        GeneralizedLinearSolver<LogisticFamily> solver = new(default, x, data);
        solver.Maximize(GeneralizedLinearStart.Logit(x, data, options), options);
        return GeneralizedLinearFit.From("logistic", default, solver, x, data, clusters, options) with
        {
            Link = MeanLink.Logit,
            Refit = other => GeneralizedLinearSolver<LogisticFamily>.Refit(default, x, data, other, solver.Values, options),
        };
    }
}
