using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>How an ordered outcome depends on columns, by one odds ratio for all cuts of the scale.</summary>
/// <remarks>
/// <para><b>Model</b>: log(P(y at or below k) / P(y above k)) = t_k - x'b for each cut k of K ordered categories: thresholds minus linear predictor, so that a positive b
/// goes with higher categories and exp(b) is the odds ratio of being above any cut. Some programs give -b. That one b serves every cut is the assumption; see
/// <see cref="ProportionalityTest"/>.</para>
/// <para><b>Fit</b>: maximum likelihood by Newton's method with the exact Hessian and step halving (steps that would cross thresholds are halved too), from
/// thresholds at the observed shares. The log-likelihood is concave (Pratt 1981). Stop rule: squared step below 1e-18 squared standard errors.</para>
/// <para><b>Variance</b>: inverse observed information; with clusters the sandwich of the rows' scores, CR1 = G/(G-1) (n-1)/(n-k) by default, t on G-1 (CR2 and CR3 need
/// leverages of a single linear predictor and are not offered). Tests from the likelihood take rows as independent.</para>
/// <para><b>Edges</b>: categories without rows are left out with a warning, as their thresholds coincide. One category: too few data. Separation: the columns are
/// named. An intercept: refused, the thresholds take its place.</para>
/// <para><b>Sources</b>: McCullagh P. JRSS B 1980;42:109-142; Pratt JW. JASA 1981;76:103-106; Williams RL. Biometrics 2000;56:645-646 (clusters).</para>
/// <para><b>Checked against</b>: Ordinal/housing, Peers.</para>
/// </remarks>
public static class ProportionalOddsRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p, without intercept.</param>
    /// <param name="categories">Category of each row, a position in <paramref name="labels"/>; length n.</param>
    /// <param name="labels">Names of the ordered categories, lowest first.</param>
    /// <param name="clusters">Which rows may be dependent; null takes all as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">An intercept, a category without label, NaN, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">Fewer than two categories occur, fewer rows than coefficients, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is constant or a combination of others.</exception>
    /// <exception cref="SeparationError">The columns split the categories.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static ProportionalOddsFit Fit(
        DesignMatrix x,
        ReadOnlySpan<int> categories,
        IReadOnlyList<string> labels,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> weights = default)
    {
        options ??= GeneralizedLinearOptions.Default;
        OrderedOutcome outcome = OrderedOutcome.Check(x, categories, labels, weights);
        string[] names = [.. outcome.Categories.SkipLast(1).Select(c => $"threshold above {c}"), .. x.Names];
        ProportionalOddsLikelihood likelihood = new(x.SelectRows(outcome.Order), outcome.SortedWeights(weights), outcome.Start, names);
        NewtonAscent at = NewtonAscent.Maximize(likelihood, likelihood.Start(), options.Tolerance, options.MaximumIterations);
        SymmetricMatrix bread = new(names, at.Factor.Inverse());
        Coefficients coefficients = new(at.Values, bread, "model-based, independent rows");
        if (clusters is not null)
        {
            Require.SameLength(clusters.Rows, x.Rows, "clusters");
            Clusters ordered = clusters.SelectRows(outcome.Order);
            coefficients = ClusterRobustCovariance.FromScores(
                at.Values, bread, likelihood.RowScores(), ordered, options.Variance ?? ClusterVariance.CR1, ordered.Renumbering(clusters, outcome.Order));
        }
        return new ProportionalOddsFit
        {
            Coefficients = coefficients,
            ModelBasedCovariance = bread,
            Categories = outcome.Categories,
            CategoryCounts = likelihood.CategoryWeights,
            LogLikelihood = at.LogLikelihood,
            NullLogLikelihood = at.StartLogLikelihood,
            ScoreTest = GeneralizedLinearFit.ChiSquaredTest("score chi-square", at.StartDecrement, x.Columns),
            Rows = outcome.Order.Length,
            ClusterCount = clusters is null ? null : clusters.SelectRows(outcome.Order).Count,
            Iterations = at.Iterations,
            Warnings = outcome.EmptyCategories.Count == 0 ? [] : [$"no row lies in {string.Join(", ", outcome.EmptyCategories)}: left out of the scale"],
        };
    }
}
