using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>A fitted model for a binary outcome or a count: coefficients, likelihood and what the fit rests on.</summary>
public sealed record GeneralizedLinearFit
{
    private const double FewEventsPerParameter = 10;

    internal GeneralizedLinearFit()
    {
    }

    /// <summary>The model in words, such as "logistic".</summary>
    public required string Model { get; init; }

    /// <summary>Coefficients on the link's scale, with the variance that was asked for.</summary>
    public required Coefficients Coefficients { get; init; }

    /// <summary>Inverse information: right only for independent rows and a right model.</summary>
    public required SymmetricMatrix ModelBasedCovariance { get; init; }

    /// <summary>Log-likelihood at the estimate, all constants included.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Log-likelihood of the model with the intercept (and offset) only; with the offset only where the design has no intercept.</summary>
    public double NullLogLikelihood => Null.Value.LogLikelihood;

    /// <summary>Twice the log-likelihood lost against a model that fits each row exactly.</summary>
    public required double Deviance { get; init; }

    /// <summary>Sum over the rows of (outcome - mean)^2 over the variance of the model.</summary>
    public required double PearsonChiSquared { get; init; }

    /// <summary>Fitted means (probabilities, expected counts) by row, length n.</summary>
    public required IReadOnlyList<double> FittedMeans { get; init; }

    /// <summary>
    /// Score test that no column but the intercept matters, from the information at the model without effects; independent
    /// rows are taken for granted.
    /// </summary>
    public TestResult ScoreTest => ChiSquaredTest("score chi-square", Null.Value.Score, Effects);

    /// <summary>Rows of positive weight.</summary>
    public required int Rows { get; init; }

    /// <summary>Number of events: rows with the outcome, or the sum of the counts; weighted by case weights.</summary>
    public required double Events { get; init; }

    /// <summary>Number of clusters with a row of positive weight; null where rows were taken as independent.</summary>
    public int? ClusterCount { get; init; }

    /// <summary>Newton steps made.</summary>
    public required int Iterations { get; init; }

    /// <summary>Parameters beside the coefficients that the likelihood was maximised over, such as a dispersion.</summary>
    public int ExtraParameters { get; init; }

    /// <summary>What a reader should know before trusting the numbers.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>
    /// Events per coefficient other than the intercept; for a binary outcome the rarer of event and no event counts
    /// (Peduzzi et al. 1996). Infinite where there is an intercept only.
    /// </summary>
    public required double EventsPerParameter { get; init; }

    /// <summary>Akaike's information criterion, -2 l + 2 (number of parameters).</summary>
    public double AkaikeInformation => (-2 * LogLikelihood) + (2 * (Coefficients.Values.Count + ExtraParameters));

    /// <summary>Likelihood-ratio test that no column but the intercept matters; independent rows are taken for granted.</summary>
    public TestResult LikelihoodRatioTest => ChiSquaredTest("likelihood-ratio chi-square", 2 * (LogLikelihood - NullLogLikelihood), Effects);

    /// <summary>Log-likelihood and score statistic of the model without effects, made when first asked for.</summary>
    internal Lazy<(double LogLikelihood, double Score)> Null { get; init; } = null!;

    /// <summary>Number of coefficients other than the intercept.</summary>
    internal int Effects { get; init; }

    /// <summary>The last weighted least-squares step of the fit.</summary>
    internal WorkingLeastSquares Working { get; init; } = null!;

    /// <summary>Outcome, offset and case weights.</summary>
    internal GeneralizedLinearData Data { get; init; } = null!;

    /// <summary>The clusters named, or null.</summary>
    internal Clusters? Clusters { get; init; }

    /// <summary>How the mean follows from the linear predictor.</summary>
    internal MeanLink Link { get; init; }

    /// <summary>Coefficients of the same model under other case weights, length n; for resampling.</summary>
    internal Func<double[], double[]> Refit { get; init; } = null!;

    /// <summary>The options of the fit.</summary>
    internal GeneralizedLinearOptions Options { get; init; } = null!;

    /// <summary>
    /// Wald test of several contrasts at once with the variance of <see cref="Coefficients"/>: an F test with few-cluster degrees of freedom where clusters were
    /// named (see <see cref="ClusterVariance"/>), else a chi-square.
    /// </summary>
    /// <exception cref="RankDeficientError">The contrasts depend on one another.</exception>
    /// <exception cref="TooFewDataError">Too few clusters for so many contrasts.</exception>
    public TestResult WaldTest(Contrasts contrasts)
    {
        if (Clusters is not null)
            return ClusterRobustWaldTest.Test(Working, Clusters, Options.Variance ?? ClusterRobustCovariance.DefaultVariance, contrasts);
        return ChiSquaredTest("Wald chi-square", contrasts.WaldStatistic(Coefficients), contrasts.Count);
    }

    /// <summary>One linear combination c'b, with Satterthwaite degrees of freedom of its own under CR2.</summary>
    /// <param name="term">Its name.</param>
    /// <param name="contrast">c, length p.</param>
    /// <param name="level">Level of confidence.</param>
    public Estimate Combination(string term, ReadOnlySpan<double> contrast, double level = ConfidenceInterval.DefaultLevel)
    {
        Estimate plain = Coefficients.Combination(term, contrast, level);
        if (Clusters is null || (Options.Variance ?? ClusterRobustCovariance.DefaultVariance) != ClusterVariance.CR2)
            return plain;
        return Estimate.Wald(term, plain.Value, plain.StandardError, ClusterRobustCovariance.DegreesOfFreedom(Working, Clusters, contrast), level);
    }

    /// <summary>Likelihood-ratio test against a model of the same kind on the same rows with fewer columns.</summary>
    /// <exception cref="InvalidInputError">The other model is not nested in this one, as far as names, rows and likelihood tell.</exception>
    public TestResult LikelihoodRatioAgainst(GeneralizedLinearFit smaller)
    {
        double df = Coefficients.Values.Count + ExtraParameters - smaller.Coefficients.Values.Count - smaller.ExtraParameters;
        bool subset = smaller.Coefficients.Terms.All(t => Coefficients.Terms.Contains(t));
        if (!subset || df <= 0 || smaller.Model != Model || smaller.Rows != Rows || smaller.Events != Events)
            throw new InvalidInputError("the models are not nested", "Fit both on the same rows, the smaller with some columns of the larger.");
        return ChiSquaredTest("likelihood-ratio chi-square", 2 * (LogLikelihood - smaller.LogLikelihood), df);
    }

    /// <summary>Makes the result from a solver that has reached the maximum.</summary>
    internal static GeneralizedLinearFit From<TFamily>(
        string model,
        TFamily family,
        GeneralizedLinearSolver<TFamily> solver,
        DesignMatrix x,
        GeneralizedLinearData data,
        Clusters? clusters,
        GeneralizedLinearOptions options)
        where TFamily : struct, IGeneralizedLinearFamily
    {
        SymmetricMatrix bread = new(x.Names, solver.Factor.Inverse());
        WorkingLeastSquares working = WorkingLeastSquares.FromBread(x, solver.Weight, solver.Score, solver.Values, bread);
        int? clusterCount = clusters is null ? null : ClusterRobustCovariance.UsedClusters(working, clusters);
        (double[] means, double pearson, double saturated) = Means(family, solver.LinearPredictor, data);
        int effects = x.Columns - (x.IndexOf(DesignMatrix.InterceptName) >= 0 ? 1 : 0);
        double events = EventsPerEffect(data, effects);
        return new GeneralizedLinearFit
        {
            Model = model,
            Coefficients = clusters is null
                ? new Coefficients(solver.Values, bread, "model-based, independent rows")
                : ClusterRobustCovariance.Estimate(working, clusters, options.Variance ?? ClusterRobustCovariance.DefaultVariance),
            ModelBasedCovariance = bread,
            LogLikelihood = solver.LogLikelihood + data.LogLikelihoodConstant,
            Null = new((solver.StartLogLikelihood + data.LogLikelihoodConstant, effects == 0 ? 0 : solver.StartDecrement)),
            Deviance = 2 * (saturated - solver.LogLikelihood),
            PearsonChiSquared = pearson,
            FittedMeans = means,
            Effects = effects,
            Rows = working.RowsUsed,
            Events = data.Events,
            ClusterCount = clusterCount,
            Iterations = solver.Iterations,
            EventsPerParameter = events,
            Warnings = events < FewEventsPerParameter ? [FormattableString.Invariant($"{events:0.0} events per coefficient: estimates may be biased away from zero and intervals too short")] : [],
            Working = working,
            Data = data,
            Clusters = clusters,
            Options = options,
        };
    }

    internal static TestResult ChiSquaredTest(string name, double statistic, double df)
        => new(name, statistic, df, double.PositiveInfinity, df == 0 ? 1 : ChiSquared.UpperTail(statistic, df));

    private static double EventsPerEffect(GeneralizedLinearData data, int effects)
    {
        double rarer = data.IsBinary ? Math.Min(data.Events, data.TotalWeight - data.Events) : data.Events;
        return effects == 0 ? double.PositiveInfinity : rarer / effects;
    }

    private static (double[] Means, double Pearson, double Saturated) Means<TFamily>(TFamily family, double[] eta, GeneralizedLinearData data)
        where TFamily : struct, IGeneralizedLinearFamily
    {
        double[] means = new double[eta.Length];
        ReadOnlySpan<double> y = data.Outcome;
        double pearson = 0;
        double saturated = 0;
        for (int i = 0; i < means.Length; i++)
        {
            double mean = family.Mean(eta[i]);
            double weight = data.Weights.IsEmpty ? 1 : data.Weights[i];
            means[i] = mean;
            if (weight == 0)
                continue;
            pearson += weight * (y[i] - mean) * (y[i] - mean) / family.Variance(mean);
            saturated += weight * family.Saturated(y[i]);
        }
        return (means, pearson, saturated);
    }
}
