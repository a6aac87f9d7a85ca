namespace RotationStudy.Simulation.Readings;

/// <summary>One row of the knee examinations.</summary>
/// <param name="Visit">Code of the visit.</param>
/// <param name="Side">L or R.</param>
/// <param name="Rater">Who examined.</param>
/// <param name="HipFinding">free, painful, restricted or not_examined.</param>
/// <param name="HipInternalRotation">Degrees, prone.</param>
/// <param name="HipExternalRotation">Degrees, prone.</param>
/// <param name="TrochantericProminence">Degrees.</param>
/// <param name="ThighFootAngle">Degrees, outward positive.</param>
/// <param name="TransmalleolarAxis">Degrees, outward positive.</param>
/// <param name="FootProgression">Degrees, outward positive.</param>
/// <param name="PatellarGlide">Quadrants.</param>
/// <param name="Apprehension">1 for yes, 0 for no.</param>
/// <param name="TrackingSign">none, small, large or unable.</param>
public sealed record KneeExam(
    string Visit, char Side, string Rater, string HipFinding,
    Reading HipInternalRotation, Reading HipExternalRotation, Reading TrochantericProminence,
    Reading ThighFootAngle, Reading TransmalleolarAxis, Reading FootProgression,
    Reading PatellarGlide, Reading Apprehension, string TrackingSign);
