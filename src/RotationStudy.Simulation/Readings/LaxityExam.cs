namespace RotationStudy.Simulation.Readings;

/// <summary>One row of the laxity components; angles in degrees, hyperextension positive; 1 for yes and 0 for no.</summary>
/// <param name="Visit">Code of the visit.</param>
/// <param name="Rater">Who examined.</param>
/// <param name="Trunk">Palms flat on the floor.</param>
/// <param name="Thumbs">Thumb to forearm, left then right.</param>
/// <param name="LittleFingers">Left then right.</param>
/// <param name="Elbows">Left then right.</param>
/// <param name="Knees">Left then right.</param>
public sealed record LaxityExam(
    string Visit, string Rater, Reading Trunk, (Reading Left, Reading Right) Thumbs,
    (Reading Left, Reading Right) LittleFingers, (Reading Left, Reading Right) Elbows, (Reading Left, Reading Right) Knees);
