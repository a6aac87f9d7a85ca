using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>How the odds of a binary outcome depend on columns when events are few or the columns split the outcome.</summary>
/// <remarks>
/// <para><b>Model</b>: as <see cref="LogisticRegression"/>, maximising l*(b) = l(b) + 1/2 log |X'WX|, w = m(1 - m): Jeffreys' prior as a penalty. It
/// takes away the first-order bias of maximum likelihood and has a finite maximum whatever the separation.</para>
/// <para><b>Fit</b>: the modified score sum of x_i (y_i - m_i + h_i (1/2 - m_i)), h the leverages, is brought to zero by Fisher scoring with step
/// halving on l*; it stops when the squared step is under 1e-18 squared standard errors.</para>
/// <para><b>Intervals and tests</b>: profile penalised likelihood (Heinze and Schemper 2002). Each bound is where twice the fall of l*, maximised over
/// the other coefficients, is the chi-square quantile; the p value comes from the same curve at zero. The penalty always uses the full design. Wald intervals
/// are poor here and are given for comparison (and for clusters: the profile curve takes rows as independent, which a warning says).</para>
/// <para><b>Edges</b>: no event, events only: too few data. A column that depends on others: named. Predicted probabilities are drawn
/// towards one half, so that their mean is not the observed share of events.</para>
/// <para><b>Sources</b>: Firth D. Biometrika 1993;80:27-38; Heinze G, Schemper M. Stat Med 2002;21:2409-2419; Heinze G. Stat Med 2006;25:4216-4226.</para>
/// <para><b>Checked against</b>: Binary/firth_separated_2x2, Binary/firth_birthwt.</para>
/// </remarks>
public static class FirthLogisticRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p; ask for its intercept.</param>
    /// <param name="outcome">0 or 1 per row, length n.</param>
    /// <param name="clusters">Which rows may be dependent, for the Wald variance; null takes all as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="weights">Case weights per row (a row counted so many times), or none.</param>
    /// <param name="level">Level of the profile intervals.</param>
    /// <exception cref="InvalidInputError">An outcome that is neither 0 nor 1, NaN, infinity, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, events only, fewer rows than columns, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static FirthFit Fit(
        DesignMatrix x,
        ReadOnlySpan<double> outcome,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> weights = default,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        options ??= GeneralizedLinearOptions.Default;
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Binary, binary: true, outcome, [], weights);
        FirthLikelihood likelihood = new(x, data, options);
        likelihood.Maximize(GeneralizedLinearStart.Logit(x, data, options), fixedColumns: []);
        FirthLikelihood profiled = new(x, data, options);
        SymmetricMatrix bread = new(x.Names, likelihood.Factor.Inverse());
        WorkingLeastSquares working = WorkingLeastSquares.FromBread(x, likelihood.Weight, likelihood.Score, likelihood.Values, bread);
        int? clusterCount = clusters is null ? null : ClusterRobustCovariance.UsedClusters(working, clusters);
        Coefficients coefficients = clusters is null
            ? new Coefficients(likelihood.Values, bread, "model-based, independent rows")
            : ClusterRobustCovariance.Estimate(working, clusters, options.Variance ?? ClusterRobustCovariance.DefaultVariance);
        return new FirthFit
        {
            Coefficients = coefficients,
            Profile = FirthProfile.Estimates(profiled, likelihood, coefficients, level),
            LikelihoodRatioTest = Overall(profiled, likelihood, x),
            PenalizedLogLikelihood = likelihood.PenalizedLogLikelihood,
            LogLikelihood = likelihood.LogLikelihood,
            FittedMeans = likelihood.FittedMeans(),
            SeparatedColumns = SeparationDetection.SeparatedColumns(x, data),
            Rows = working.RowsUsed,
            Events = data.Events,
            ClusterCount = clusterCount,
            Iterations = likelihood.Iterations,
            Warnings = clusters is null ? [] : ["profile intervals and likelihood-ratio tests take rows as independent; the Wald variance is cluster-robust"],
        };
    }

    private static TestResult Overall(FirthLikelihood profiled, FirthLikelihood full, DesignMatrix x)
    {
        int intercept = x.IndexOf(DesignMatrix.InterceptName);
        int[] effects = [.. Enumerable.Range(0, x.Columns).Where(j => j != intercept)];
        if (effects.Length == 0)
            return new TestResult("penalised likelihood-ratio chi-square", 0, 0, double.PositiveInfinity, 1);
        double[] start = new double[x.Columns];
        if (intercept >= 0)
            start[intercept] = full.Values[intercept];
        profiled.Maximize(start, effects);
        double statistic = Math.Max(0, 2 * (full.PenalizedLogLikelihood - profiled.PenalizedLogLikelihood));
        return new TestResult("penalised likelihood-ratio chi-square", statistic, effects.Length, double.PositiveInfinity, ChiSquared.UpperTail(statistic, effects.Length));
    }
}
