namespace RotationStudy.Statistics.Regression;

/// <summary>A logistic regression fitted by Firth's penalised likelihood.</summary>
public sealed record FirthFit
{
    internal FirthFit()
    {
    }

    /// <summary>Log odds ratios with the Wald variance: inverse information, or cluster-robust where clusters were named.</summary>
    public required Coefficients Coefficients { get; init; }

    /// <summary>
    /// Each coefficient with its profile interval and the p value of the penalised likelihood-ratio test: the ones to report. Rows are taken as
    /// independent. The standard error is the one of <see cref="Coefficients"/>.
    /// </summary>
    public required IReadOnlyList<Estimate> Profile { get; init; }

    /// <summary>Penalised likelihood-ratio test that no column but the intercept matters.</summary>
    public required TestResult LikelihoodRatioTest { get; init; }

    /// <summary>Log-likelihood plus half the log determinant of the information, at the estimate.</summary>
    public required double PenalizedLogLikelihood { get; init; }

    /// <summary>Log-likelihood without the penalty, at the same estimate.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Fitted probabilities by row, length n.</summary>
    public required IReadOnlyList<double> FittedMeans { get; init; }

    /// <summary>Columns that separate the outcome, for which maximum likelihood has no estimate; empty otherwise.</summary>
    public required IReadOnlyList<string> SeparatedColumns { get; init; }

    /// <summary>Rows of positive weight.</summary>
    public required int Rows { get; init; }

    /// <summary>Number of rows with the event, by case weights.</summary>
    public required double Events { get; init; }

    /// <summary>Number of clusters; null where rows were taken as independent.</summary>
    public int? ClusterCount { get; init; }

    /// <summary>Iterations of the main fit.</summary>
    public required int Iterations { get; init; }

    /// <summary>What a reader should know before trusting the numbers.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }
}
