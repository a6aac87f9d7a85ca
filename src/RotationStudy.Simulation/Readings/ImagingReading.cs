namespace RotationStudy.Simulation.Readings;

/// <summary>One row of the imaging.</summary>
/// <param name="Side">L or R.</param>
/// <param name="Number">Running number of the image, from 1.</param>
/// <param name="Day">Day since enrolment.</param>
/// <param name="Modality">mri or ct.</param>
/// <param name="Method">How anteversion was read; NA where it was not.</param>
/// <param name="Anteversion">Degrees by that method.</param>
/// <param name="TibialTorsion">Degrees, external positive.</param>
/// <param name="TubercleDistance">Millimetres.</param>
/// <param name="PatellarHeight">Ratio.</param>
/// <param name="TrochlearGrade">none, a, b, c or d.</param>
/// <param name="PatellarTilt">Degrees, outward positive.</param>
/// <param name="CartilageLesion">none, superficial, partial, deep or full.</param>
public sealed record ImagingReading(
    char Side, int Number, int Day, string Modality, string Method,
    Reading Anteversion, Reading TibialTorsion, Reading TubercleDistance, Reading PatellarHeight, string TrochlearGrade,
    Reading PatellarTilt, string CartilageLesion);
