using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// A fitted linear regression: coefficients under each variance, fit statistics, residuals, tests and predictions.
/// </summary>
public sealed class LinearRegressionResult
{
    // An outcome that varies by less than this share of its sum of squares is constant up to rounding.
    private const double ConstantOutcome = 1e-28;

    private readonly double[] outcome;
    private readonly double[] fitted;
    private readonly Lazy<double[]> leverage;
    private readonly Lazy<double[]> residuals;

    internal LinearRegressionResult(WorkingLeastSquares step, double[] outcome, double[] fitted)
    {
        Step = step;
        this.outcome = outcome;
        this.fitted = fitted;
        leverage = new Lazy<double[]>(step.Leverage);
        residuals = new Lazy<double[]>(() => [.. outcome.Select((y, i) => y - fitted[i])]);
        Rows = step.RowsUsed;
        ResidualDegreesOfFreedom = Rows - step.Design.Columns;
        double mean = WeightedMean(out double logWeights);
        double left = 0;
        double total = 0;
        double raw = 0;
        HasConstant = FindConstant();
        for (int i = 0; i < outcome.Length; i++)
        {
            double about = HasConstant ? outcome[i] - mean : outcome[i];
            left += step.Weight(i) * (outcome[i] - fitted[i]) * (outcome[i] - fitted[i]);
            total += step.Weight(i) * about * about;
            raw += step.Weight(i) * outcome[i] * outcome[i];
        }
        ResidualSumOfSquares = left;
        TotalSumOfSquares = total > ConstantOutcome * raw ? total : 0;
        LogLikelihood = 0.5 * (logWeights - (Rows * (Math.Log(2 * Math.PI * left / Rows) + 1)));
        ModelBased = new Coefficients(
            step.Values,
            step.FromWhitened(Solvers.SmallMatrix.Identity(step.Design.Columns), left / ResidualDegreesOfFreedom),
            "model-based, equal variances",
            Enumerable.Repeat<double>(ResidualDegreesOfFreedom, step.Design.Columns).ToArray());
    }

    /// <summary>Coefficients with the model-based covariance; t on n - p degrees of freedom.</summary>
    public Coefficients ModelBased { get; }

    /// <summary>Rows of positive weight, n.</summary>
    public int Rows { get; }

    /// <summary>n - p.</summary>
    public int ResidualDegreesOfFreedom { get; }

    /// <summary>Sum of w e^2.</summary>
    public double ResidualSumOfSquares { get; }

    /// <summary>Sum of w (y - mean)^2, or of w y^2 where the design holds no constant column.</summary>
    public double TotalSumOfSquares { get; }

    /// <summary>Whether a column of the design is constant, so that sums of squares are about the mean.</summary>
    public bool HasConstant { get; }

    /// <summary>
    /// Residual standard deviation for a row of weight one, with division by n - p; in the unit of the outcome.
    /// </summary>
    public double Sigma => Math.Sqrt(ResidualSumOfSquares / ResidualDegreesOfFreedom);

    /// <summary>Share of the sum of squares that the columns explain, 0 to 1; 0 for a constant outcome.</summary>
    public double RSquared => TotalSumOfSquares > 0 ? 1 - (ResidualSumOfSquares / TotalSumOfSquares) : 0;

    /// <summary>R squared with both sums divided by their degrees of freedom.</summary>
    public double AdjustedRSquared => 1 - ((1 - RSquared) * (Rows - (HasConstant ? 1 : 0)) / ResidualDegreesOfFreedom);

    /// <summary>Gaussian log-likelihood at the maximum likelihood variance; infinite for an exact fit.</summary>
    public double LogLikelihood { get; }

    /// <summary>Fitted values X b, one per row of the design.</summary>
    public IReadOnlyList<double> Fitted => fitted;

    /// <summary>Residuals y - X b, one per row of the design, not weighted.</summary>
    public IReadOnlyList<double> Residuals => residuals.Value;

    /// <summary>Leverage of each row, 0 to 1; their sum is p.</summary>
    public IReadOnlyList<double> Leverage => leverage.Value;

    /// <summary>The weighted least-squares step, which robust variances and influence are made from.</summary>
    internal WorkingLeastSquares Step { get; }

    /// <summary>Coefficients with a variance that allows rows of unequal variance; rows must be independent.</summary>
    public Coefficients Robust(HeteroskedasticityVariance variance = HeteroskedasticityVariance.HC3)
        => HeteroskedasticityRobustCovariance.Estimate(Step, variance);

    /// <summary>Coefficients with the default cluster-robust variance: CR2 with Satterthwaite degrees of freedom.</summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    public Coefficients ClusterRobust(Clusters clusters)
        => ClusterRobust(clusters, ClusterRobustCovariance.DefaultVariance);

    /// <summary>Coefficients with the cluster-robust variance asked for.</summary>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    public Coefficients ClusterRobust(Clusters clusters, ClusterVariance variance)
        => ClusterRobustCovariance.Estimate(Step, clusters, variance);

    /// <summary>
    /// Coefficients with a variance robust to two crossed ways of clustering (Cameron, Gelbach and Miller 2011).
    /// </summary>
    /// <exception cref="InvalidInputError">CR2 or CR3, which are not defined for two ways.</exception>
    public Coefficients ClusterRobustTwoWay(Clusters first, Clusters second, ClusterVariance variance = ClusterVariance.CR1)
        => ClusterRobustCovariance.TwoWay(Step, first, second, variance);

    /// <summary>One linear combination c'b under CR2, with Satterthwaite degrees of freedom of its own.</summary>
    /// <param name="term">Its name.</param>
    /// <param name="contrast">c, length p.</param>
    /// <param name="clusters">Clusters of the rows.</param>
    /// <param name="level">Level of confidence.</param>
    public Estimate ClusterRobustCombination(
        string term,
        ReadOnlySpan<double> contrast,
        Clusters clusters,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Coefficients robust = ClusterRobust(clusters, ClusterVariance.CR2);
        Estimate plain = robust.Combination(term, contrast, level);
        return Estimate.Wald(term, plain.Value, plain.StandardError, ClusterRobustCovariance.DegreesOfFreedom(Step, clusters, contrast), level);
    }

    /// <summary>
    /// F test that all slopes are zero, against the model with the constant alone (or with nothing, where there is no constant).
    /// </summary>
    /// <exception cref="TooFewDataError">The design holds nothing but the constant.</exception>
    public TestResult OverallTest()
    {
        int q = Step.Design.Columns - (HasConstant ? 1 : 0);
        if (q == 0)
            throw new TooFewDataError("the design holds the constant alone, so no slope can be tested", "Add a column.");
        double f = (TotalSumOfSquares - ResidualSumOfSquares) / q / (ResidualSumOfSquares / ResidualDegreesOfFreedom);
        return TestResult.F("F", f, q, ResidualDegreesOfFreedom);
    }

    /// <summary>Model-based F test of q contrasts of the coefficients, on q and n - p degrees of freedom.</summary>
    /// <exception cref="RankDeficientError">The contrasts depend on one another.</exception>
    public TestResult FTest(Contrasts contrasts)
        => TestResult.F("Wald F", contrasts.WaldStatistic(ModelBased) / contrasts.Count, contrasts.Count, ResidualDegreesOfFreedom);

    /// <summary>F test of q contrasts with heteroskedasticity-robust covariance, on q and n - p degrees of freedom.</summary>
    /// <exception cref="RankDeficientError">The contrasts depend on one another.</exception>
    public TestResult FTest(Contrasts contrasts, HeteroskedasticityVariance variance)
    {
        double f = contrasts.WaldStatistic(Robust(variance)) / contrasts.Count;
        return TestResult.F($"Wald F, heteroskedasticity-robust, {variance}", f, contrasts.Count, ResidualDegreesOfFreedom);
    }

    /// <summary>
    /// F test of q contrasts with cluster-robust covariance. CR2: Hotelling's T-squared with eta degrees of freedom after
    /// Tipton and Pustejovsky (2015), F on q and eta - q + 1; CR1 and CR3: F on q and G - 1; CR0: chi-square.
    /// </summary>
    /// <exception cref="RankDeficientError">The contrasts depend on one another.</exception>
    /// <exception cref="TooFewDataError">Too few clusters for so many contrasts.</exception>
    public TestResult FTest(Contrasts contrasts, Clusters clusters, ClusterVariance variance = ClusterVariance.CR2)
        => ClusterRobustWaldTest.Test(Step, clusters, variance, contrasts);

    /// <summary>Predictions at new rows of the design's columns.</summary>
    /// <param name="rows">New rows; the columns of the fit, in the same order.</param>
    /// <param name="coefficients">Covariance to use for the mean; null for the model-based one.</param>
    /// <param name="level">Level of confidence.</param>
    /// <returns>One prediction per row.</returns>
    /// <exception cref="InvalidInputError">Columns that are not those of the fit.</exception>
    /// <remarks>
    /// The interval for the mean is x'b plus or minus t times the root of x'Vx; the interval for a new observation adds
    /// sigma^2 (of a row of weight one), which holds under equal normal variances only, whatever covariance is used for
    /// the mean. Degrees of freedom: the smallest of the coefficients that enter, and for a new observation at most n -
    /// p.
    /// </remarks>
    public IReadOnlyList<LinearPrediction> Predict(
        DesignMatrix rows,
        Coefficients? coefficients = null,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Coefficients used = coefficients ?? ModelBased;
        if (!rows.Names.SequenceEqual(used.Terms))
            throw new InvalidInputError(
                $"the new rows have the columns {string.Join(", ", rows.Names)}",
                $"Give {string.Join(", ", used.Terms)}, in this order.");
        LinearPrediction[] predictions = new LinearPrediction[rows.Rows];
        double[] x = new double[rows.Columns];
        for (int i = 0; i < predictions.Length; i++)
        {
            for (int j = 0; j < x.Length; j++)
                x[j] = rows[i, j];
            Estimate mean = used.Combination($"row {i + 1}", x, level);
            double df = Math.Min(mean.DegreesOfFreedom, ResidualDegreesOfFreedom);
            double half = StudentT.Quantile(0.5 + (level / 2), df) * Math.Sqrt((mean.StandardError * mean.StandardError) + (Sigma * Sigma));
            predictions[i] = new LinearPrediction(mean, new ConfidenceInterval(mean.Value - half, mean.Value + half, level));
        }
        return predictions;
    }

    private double WeightedMean(out double logWeights)
    {
        double sum = 0;
        double weight = 0;
        logWeights = 0;
        for (int i = 0; i < outcome.Length; i++)
        {
            sum += Step.Weight(i) * outcome[i];
            weight += Step.Weight(i);
            if (Step.Weights.Length > 0 && Step.IsUsed(i))
                logWeights += Math.Log(Step.Weight(i));
        }
        return sum / weight;
    }

    private bool FindConstant()
    {
        for (int j = 0; j < Step.Design.Columns; j++)
        {
            ReadOnlySpan<double> column = Step.Design.Column(j);
            if (column[0] != 0 && !column.ContainsAnyExcept(column[0]))
                return true;
        }
        return false;
    }
}
