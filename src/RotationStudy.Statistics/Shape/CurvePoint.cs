namespace RotationStudy.Statistics.Shape;

/// <summary>One point of a curve.</summary>
/// <param name="X">Where, in the quantity's unit.</param>
/// <param name="Difference">Difference in the linear predictor from the reference value, with its pointwise interval;
/// zero at the reference.</param>
public sealed record CurvePoint(double X, Estimate Difference);
