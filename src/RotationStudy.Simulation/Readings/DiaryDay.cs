namespace RotationStudy.Simulation.Readings;

/// <summary>One day of a diary.</summary>
/// <param name="Day">Day since enrolment.</param>
/// <param name="Steps">Steps counted.</param>
/// <param name="Pain">0 to 10.</param>
/// <param name="TrainingLoad">Minutes times effort from 1 to 10; 0 without training.</param>
/// <param name="WearHours">Hours that the counter was worn.</param>
/// <param name="Change">What the training plan changed on this day: none, distance, speed, strength or drills.</param>
public sealed record DiaryDay(int Day, Reading Steps, Reading Pain, Reading TrainingLoad, Reading WearHours, string Change);
