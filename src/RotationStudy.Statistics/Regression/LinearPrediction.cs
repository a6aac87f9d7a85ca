namespace RotationStudy.Statistics.Regression;

/// <summary>A linear regression's prediction at one row.</summary>
/// <param name="Mean">The mean outcome at this row with its confidence interval.</param>
/// <param name="NewObservation">Interval for one new outcome of weight one at this row.</param>
public sealed record LinearPrediction(Estimate Mean, ConfidenceInterval NewObservation);
