namespace RotationStudy.Statistics.Survival;

/// <summary>A log partial likelihood with its first two derivatives, for columns centred within strata.</summary>
internal interface IPartialLikelihood
{
    /// <summary>Log partial likelihood at the coefficients of the last evaluation.</summary>
    double LogLikelihood { get; }

    /// <summary>First derivatives, length p.</summary>
    ReadOnlySpan<double> Score { get; }

    /// <summary>Minus the second derivatives, p squared values row by row.</summary>
    ReadOnlySpan<double> Information { get; }

    /// <summary>What the information of a column would be if nothing were subtracted: the yardstick for "no information".</summary>
    ReadOnlySpan<double> CrudeInformation { get; }

    /// <summary>Evaluates at p coefficients.</summary>
    void Evaluate(ReadOnlySpan<double> beta);
}
