namespace RotationStudy.Statistics.Regression;

/// <summary>How a mean follows from a linear predictor eta.</summary>
internal enum MeanLink
{
    /// <summary>Mean = 1 / (1 + exp(-eta)).</summary>
    Logit,

    /// <summary>Mean = exp(eta).</summary>
    Log,
}
