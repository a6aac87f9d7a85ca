namespace RotationStudy.Statistics.Regression;

/// <summary>An event rate, or the ratio of two, with exact intervals for few events.</summary>
/// <param name="Value">Events over exposure, or the ratio of two such rates; infinite where the second rate is zero.</param>
/// <param name="Interval">Exact central interval.</param>
/// <param name="PValue">Two-sided p value of the hypothesised value: twice the smaller tail, at most 1.</param>
public sealed record ExactRate(double Value, ConfidenceInterval Interval, double PValue);
