namespace RotationStudy.Statistics.Regression;

/// <summary>How the risk of a binary outcome depends on columns, as risk ratios.</summary>
/// <remarks>
/// <para><b>Model</b>: log P(y = 1) = x'b; exp(b) is the risk ratio of one unit of a column, the others held. Nothing but the mean is modelled.</para>
/// <para><b>Fit</b>: the score equations of Poisson regression, which hold the mean right though y is no Poisson count (Zou 2004); always convergent
/// where no group is free of events, unlike <see cref="LogBinomialRegression"/>.</para>
/// <para><b>Variance</b>: the sandwich, always: by the clusters named, else by rows. Zou's form is CR0; the default is CR2 with Satterthwaite
/// degrees of freedom. The model-based covariance, likelihood, deviance and tests made from them belong to a Poisson model and are too wide for a binary outcome: use
/// the coefficients' Wald intervals and tests.</para>
/// <para><b>Edges</b>: fitted risks above 1 are counted in a warning; they spoil predictions, not the ratios. A group without events: separation error.</para>
/// <para><b>Sources</b>: Zou G. Am J Epidemiol 2004;159:702-706; with clusters Zou GY, Donner A. Stat Methods Med Res 2013;22:661-670.</para>
/// <para><b>Checked against</b>: Binary/birthwt.</para>
/// </remarks>
public static class ModifiedPoissonRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p; ask for its intercept.</param>
    /// <param name="outcome">0 or 1 per row, length n.</param>
    /// <param name="clusters">Which rows may be dependent; null takes each row by itself.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">An outcome that is neither 0 nor 1, NaN, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, events only, fewer rows than columns, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    /// <exception cref="SeparationError">The columns mark off rows without any event.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static GeneralizedLinearFit Fit(
        DesignMatrix x,
        ReadOnlySpan<double> outcome,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> weights = default)
    {
        options ??= GeneralizedLinearOptions.Default;
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Count, binary: true, outcome, [], weights);
        GeneralizedLinearSolver<PoissonFamily> solver = new(default, x, data);
        solver.Maximize(GeneralizedLinearStart.LogLink(x, data), options);
        GeneralizedLinearFit fit = GeneralizedLinearFit.From("modified Poisson", default, solver, x, data, clusters ?? Clusters.EachRow(x.Rows), options);
        int above = fit.FittedMeans.Count(m => m > 1);
        return fit with
        {
            ClusterCount = clusters is null ? null : fit.ClusterCount,
            Clusters = clusters,
            Warnings = above == 0 ? fit.Warnings : [.. fit.Warnings, $"{above} fitted risks lie above 1"],
            Link = MeanLink.Log,
            Refit = other => GeneralizedLinearSolver<PoissonFamily>.Refit(default, x, data, other, solver.Values, options),
        };
    }
}
