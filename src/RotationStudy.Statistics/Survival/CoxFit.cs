using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>A fitted proportional-hazards model.</summary>
public sealed record CoxFit
{
    /// <summary>Log hazard ratios (log odds ratios for exact discrete ties) with the covariance to report: cluster-robust where clusters were given.</summary>
    public required Coefficients Coefficients { get; init; }

    /// <summary>The inverse of the observed information: right only if rows are independent.</summary>
    public required SymmetricMatrix ModelCovariance { get; init; }

    /// <summary>Log partial likelihood at the estimate.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Log partial likelihood with all coefficients zero.</summary>
    public required double NullLogLikelihood { get; init; }

    /// <summary>Score test that all coefficients are zero, from the information at zero (no clustering).</summary>
    public required TestResult ScoreTest { get; init; }

    /// <summary>Number of rows, n.</summary>
    public required int Rows { get; init; }

    /// <summary>Number of events.</summary>
    public required int Events { get; init; }

    /// <summary>Number of clusters, G; null where rows were taken as independent.</summary>
    public required int? Clusters { get; init; }

    /// <summary>Newton steps made.</summary>
    public required int Iterations { get; init; }

    /// <summary>How tied events were treated.</summary>
    public required TiesMethod Ties { get; init; }

    /// <summary>What a reader should know before trusting the fit, in sentences; often empty.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The likelihood at the estimate, from which residuals and curves are made; null for exact discrete ties.</summary>
    internal CoxPartialLikelihood? Likelihood { get; init; }

    /// <summary>The follow-up that was given.</summary>
    public required SurvivalTimes Times { get; init; }

    /// <summary>The clusters that were given.</summary>
    internal Clusters? ClusterRows { get; init; }

    /// <summary>The strata that were given.</summary>
    internal Clusters? StrataRows { get; init; }

    /// <summary>Likelihood-ratio test that all coefficients are zero (no clustering).</summary>
    public TestResult LikelihoodRatioTest
    {
        get
        {
            double statistic = Math.Max(0, 2 * (LogLikelihood - NullLogLikelihood));
            int df = Coefficients.Values.Count;
            return new TestResult("likelihood ratio", statistic, df, double.PositiveInfinity, ChiSquared.UpperTail(statistic, df));
        }
    }

    /// <summary>A hazard ratio exp(b) with its interval, for one unit of the named column.</summary>
    public (double Ratio, ConfidenceInterval Interval) HazardRatio(string term, double level = ConfidenceInterval.DefaultLevel)
    {
        Estimate log = Coefficients.Estimate(term, level);
        return (Math.Exp(log.Value), log.Interval.Map(Math.Exp));
    }

    /// <summary>The likelihood behind the fit.</summary>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties, which define no hazard and no residual.</exception>
    internal CoxPartialLikelihood RequireLikelihood(string what)
        => Likelihood ?? throw new InvalidInputError($"{what} are not defined for a fit with exact discrete ties", "Fit with Efron's or Breslow's method for ties.");

    internal static TestResult Score(IPartialLikelihood atZero, IReadOnlyList<string> names)
    {
        double[] solved = SmallCholesky.Factor(atZero.Information, names.Count, names).Solve(atZero.Score);
        double statistic = CrossProduct.Dot(atZero.Score, solved);
        return new TestResult("score", statistic, names.Count, double.PositiveInfinity, ChiSquared.UpperTail(statistic, names.Count));
    }
}
