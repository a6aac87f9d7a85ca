namespace RotationStudy.Statistics.Regression;

/// <summary>How the risk of a binary outcome depends on columns, as risk ratios from the binomial likelihood.</summary>
/// <remarks>
/// <para><b>Model</b>: log P(y = 1) = x'b, x'b below zero in every row; exp(b) is the risk ratio of one unit of a column.</para>
/// <para><b>Fit</b>: maximum likelihood by Fisher scoring from the common risk. A step that would lift any fitted probability to 1 or
/// more is halved until it does not. The likelihood is concave; where its maximum lies on the edge of the space of parameters (some fitted probability
/// is 1) the scoring does not settle and the fit is refused, since neither score equations nor standard errors hold there.</para>
/// <para><b>Variance</b>: inverse expected information, or the sandwich by clusters.</para>
/// <para><b>Edges</b>: the intercept is needed to set out from. On the edge: an error that points to <see cref="ModifiedPoissonRegression"/>. A group
/// without events: separation error.</para>
/// <para><b>Sources</b>: Wacholder S. Am J Epidemiol 1986;123:174-184; Williamson T, Eliasziw M, Fick GH. Emerg Themes Epidemiol 2013;10:14 (the edge).</para>
/// <para><b>Checked against</b>: Binary/risk_ratio.</para>
/// </remarks>
public static class LogBinomialRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p, with its intercept.</param>
    /// <param name="outcome">0 or 1 per row, length n.</param>
    /// <param name="clusters">Which rows may be dependent; null takes all as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">No intercept, an outcome that is neither 0 nor 1, NaN, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, events only, fewer rows than columns, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    /// <exception cref="SeparationError">The columns mark off rows without any event.</exception>
    /// <exception cref="NotConvergedError">The maximum lies where a fitted probability is 1.</exception>
    public static GeneralizedLinearFit Fit(
        DesignMatrix x,
        ReadOnlySpan<double> outcome,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> weights = default)
    {
        if (x.IndexOf(DesignMatrix.InterceptName) < 0)
            throw new InvalidInputError("the design has no intercept", "Build it with one: the fit sets out from the common risk.");
        options ??= GeneralizedLinearOptions.Default;
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Count, binary: true, outcome, [], weights);
        GeneralizedLinearSolver<LogBinomialFamily> solver = new(default, x, data);
        try
        {
            // Scoring converges linearly, so that more steps are allowed than for Newton's method.
            solver.Maximize(GeneralizedLinearStart.LogLink(x, data), options with { MaximumIterations = 5 * options.MaximumIterations });
        }
        catch (Exception unfinished) when (unfinished is NotConvergedError or RankDeficientError && solver.Iterations > 0)
        {
            throw new NotConvergedError(
                "the log-binomial likelihood is highest where a fitted probability reaches 1",
                "Use the modified Poisson regression, or standardise a logistic model, for risk ratios.",
                solver.Iterations);
        }
        return GeneralizedLinearFit.From("log-binomial", default, solver, x, data, clusters, options) with
        {
            Link = MeanLink.Log,
            Refit = other => GeneralizedLinearSolver<LogBinomialFamily>.Refit(default, x, data, other, GeneralizedLinearStart.LogLink(x, data), options with { MaximumIterations = 5 * options.MaximumIterations }),
        };
    }
}
