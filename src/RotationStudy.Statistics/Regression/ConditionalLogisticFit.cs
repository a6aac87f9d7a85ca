namespace RotationStudy.Statistics.Regression;

/// <summary>A fitted conditional logistic regression of matched sets.</summary>
public sealed record ConditionalLogisticFit
{
    internal ConditionalLogisticFit()
    {
    }

    /// <summary>Log odds ratios within sets, with the variance asked for.</summary>
    public required Coefficients Coefficients { get; init; }

    /// <summary>Inverse information.</summary>
    public required SymmetricMatrix ModelBasedCovariance { get; init; }

    /// <summary>Conditional log-likelihood at the estimate.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Conditional log-likelihood with all coefficients zero.</summary>
    public required double NullLogLikelihood { get; init; }

    /// <summary>Score test that no column matters; for 1:1 sets and one binary column this is McNemar's test.</summary>
    public required TestResult ScoreTest { get; init; }

    /// <summary>Likelihood-ratio test that no column matters.</summary>
    public TestResult LikelihoodRatioTest => GeneralizedLinearFit.ChiSquaredTest("likelihood-ratio chi-square", 2 * (LogLikelihood - NullLogLikelihood), Coefficients.Values.Count);

    /// <summary>All matched sets given.</summary>
    public required int Sets { get; init; }

    /// <summary>Sets that hold both outcomes, the only ones that say anything.</summary>
    public required int ContributingSets { get; init; }

    /// <summary>Rows in contributing sets.</summary>
    public required int ContributingRows { get; init; }

    /// <summary>Cases in contributing sets.</summary>
    public required int Cases { get; init; }

    /// <summary>Number of clusters of sets; null where sets were taken as independent.</summary>
    public int? ClusterCount { get; init; }

    /// <summary>Newton steps made.</summary>
    public required int Iterations { get; init; }

    /// <summary>What a reader should know before trusting the numbers.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }
}
