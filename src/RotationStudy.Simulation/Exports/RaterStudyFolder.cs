using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Exports;

/// <summary>Writes the export of a made-up rater sub-study, with its truth beside it.</summary>
public static class RaterStudyFolder
{
    /// <summary>Writes the folder.</summary>
    /// <param name="study">The sub-study.</param>
    /// <param name="people">Scenario that persons are drawn from.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="folder">Folder to make; it must not exist yet, or be empty.</param>
    /// <exception cref="IOException">The folder holds files already, or cannot be written to.</exception>
    public static void Write(RaterStudyScenario study, Scenario people, int seed, string folder)
        => NewFolder.Write(folder, unfinished =>
        {
            CsvText participants = CsvText.WithHeader("participant_id", "site", "sex", "age_years");
            CsvText readings = CsvText.WithHeader(
                "participant_id", "session", "side", "rater", "hip_internal_rotation_deg", "hip_external_rotation_deg",
                "trochanteric_prominence_deg", "thigh_foot_angle_deg");
            CsvText images = CsvText.WithHeader("participant_id", "side", "imaging_day", "femoral_anteversion_deg");
            SimulatedCohort cohort = new(people with { Cohort = people.Cohort with { Participants = study.Participants } }, seed);
            RaterSession sessions = new(study, people.Exam, seed);
            for (int number = 1; number <= study.Participants; number++)
            {
                SimulatedParticipant person = cohort.Participant(number);
                NamedStreams streams = new(seed, number);
                participants.Cell(person.Id).Cell(person.Person.Site.Site).Cell(person.Person.Female ? 'F' : 'M').Cell(person.Person.AgeYears).EndLine();
                foreach (RaterReading row in sessions.Examine(person, streams))
                {
                    readings.Cell(person.Id).Cell(row.Session == 1 ? "session_1" : "session_2").Cell(row.Side).Cell(row.Rater);
                    foreach (Reading angle in row.Angles)
                        readings.Cell(angle);
                    readings.EndLine();
                }
                RandomDraws image = streams.Open("rater study image");
                foreach (SimulatedKnee knee in person.Knees)
                    images.Cell(person.Id).Cell(knee.Side).Cell(0).Cell(Math.Round(image.Normal(knee.Torsion.AnteversionAtEnrolment, study.ImageSd))).EndLine();
            }
            File.WriteAllBytes(Path.Combine(unfinished, "participants.csv"), participants.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, "readings.csv"), readings.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, "imaging.csv"), images.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, CohortFolder.TruthFile), ToJson(study, seed));
        });

    private static byte[] ToJson(RaterStudyScenario study, int seed) =>
        TruthText.Of(new Content(TruthText.Note, seed, ErrorVariance.Of(study), study));

    private sealed record Content(string Note, int Seed, ErrorVariance Error, RaterStudyScenario Scenario);

    /// <summary>What an analysis looks for: variances in square degrees, heaping counted as an even spread of each rounding.</summary>
    private sealed record ErrorVariance(double BetweenRaters, double Residual, double ErrorOfOneReadingBetweenRaters, double ErrorOfOneReadingWithinRater)
    {
        internal static ErrorVariance Of(RaterStudyScenario s)
        {
            double rounding = ((s.HeapingShare * 25) + (1 - s.HeapingShare)) / 12;
            double residual = (s.ReadingSd * s.ReadingSd) + rounding;
            double session = s.SessionSd * s.SessionSd;
            double raters = (s.RaterSd * s.RaterSd) + session;
            return new ErrorVariance(
                Math.Round(raters, 4), Math.Round(residual, 4), Math.Round(Math.Sqrt(raters + residual), 4),
                Math.Round(Math.Sqrt(session + residual + (s.DaySd * s.DaySd)), 4));
        }
    }
}
