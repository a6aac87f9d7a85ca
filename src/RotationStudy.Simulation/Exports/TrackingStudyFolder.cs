using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Exports;

/// <summary>Writes the export of a made-up study of patellar tracking, with its truth beside it.</summary>
public static class TrackingStudyFolder
{
    private const int DeepestFlexion = 90;
    private const int StepDegrees = 10;

    /// <summary>Writes the folder.</summary>
    /// <param name="study">The study.</param>
    /// <param name="people">Scenario that persons and slips of the pen are drawn from.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="folder">Folder to make; it must not exist yet, or be empty.</param>
    /// <exception cref="IOException">The folder holds files already, or cannot be written to.</exception>
    public static void Write(TrackingStudyScenario study, Scenario people, int seed, string folder)
        => NewFolder.Write(folder, unfinished =>
        {
            CsvText participants = CsvText.WithHeader("participant_id", "site", "sex", "age_years");
            CsvText knees = CsvText.WithHeader("participant_id", "side", "instability");
            CsvText tracking = CsvText.WithHeader("participant_id", "side", "trial", "flexion_deg", "lateral_shift_mm", "tilt_deg");
            CsvText readings = CsvText.WithHeader("participant_id", "side", "rater", "femoral_anteversion_deg");
            SimulatedCohort cohort = new(
                people with
                {
                    Cohort = people.Cohort with { Participants = study.Participants, PriorInstabilityShare = study.UnstableShare },
                    Tracking = study.Tracking,
                },
                seed);
            double[] constants = RaterConstants(study, seed);
            for (int number = 1; number <= study.Participants; number++)
            {
                SimulatedParticipant person = cohort.Participant(number);
                participants.Cell(person.Id).Cell(person.Person.Site.Site).Cell(person.Person.Female ? 'F' : 'M').Cell(person.Person.AgeYears).EndLine();
                foreach (SimulatedKnee knee in person.Knees)
                    knees.Cell(person.Id).Cell(knee.Side).Cell(knee.PriorInstability ? "dislocated" : "none").EndLine();
                foreach (CurveReading row in person.Curves)
                    tracking.Cell(person.Id).Cell(row.Side).Cell(row.Trial).Cell(row.Flexion).Cell(row.Shift).Cell(row.Tilt).EndLine();
                Read(study, person, constants, new NamedStreams(seed, number).Open("tracking study readings"), readings);
            }
            File.WriteAllBytes(Path.Combine(unfinished, "participants.csv"), participants.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, "knees.csv"), knees.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, "tracking.csv"), tracking.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, "readings.csv"), readings.ToBytes());
            File.WriteAllBytes(Path.Combine(unfinished, CohortFolder.TruthFile), ToJson(study, seed));
        });

    /// <summary>One rater, or two different ones, read both sides of a person.</summary>
    private static void Read(TrackingStudyScenario study, SimulatedParticipant person, double[] constants, RandomDraws draws, CsvText readings)
    {
        int count = study.Raters.Count;
        int first = Math.Min((int)(draws.Uniform() * count), count - 1);
        int second = (first + 1 + Math.Min((int)(draws.Uniform() * (count - 1)), count - 2)) % count;
        int[] raters = draws.Happens(study.SecondRaterShare) ? [.. new[] { first, second }.Order()] : [first];
        foreach (SimulatedKnee knee in person.Knees)
        {
            foreach (int rater in raters)
            {
                double value = draws.Normal(knee.Torsion.AnteversionAtEnrolment + constants[rater], study.AnteversionReadingSd);
                readings.Cell(person.Id).Cell(knee.Side).Cell(study.Raters[rater]).Cell(Math.Round(Math.Clamp(value, -40, 80))).EndLine();
            }
        }
    }

    private static double[] RaterConstants(TrackingStudyScenario study, int seed)
        => [.. study.Raters.Select(r => NamedStreams.Shared(seed).Open($"tracking study {r}").Normal(0, study.RaterSd))];

    private static byte[] ToJson(TrackingStudyScenario study, int seed)
        => TruthText.Of(new Content(TruthText.Note, seed, Truth.Of(study), study));

    private sealed record Content(string Note, int Seed, Truth Truth, TrackingStudyScenario Scenario);

    /// <summary>What an analysis looks for.</summary>
    /// <param name="ShiftDifferenceMm">Unstable minus stable knees at each flexion.</param>
    /// <param name="ShiftAtExtensionPer10Anteversion">Change of the shift at extension per 10 degrees of true anteversion, mm.</param>
    /// <param name="ReadingErrorSd">Error of one reading of anteversion by any rater, rounding included, degrees.</param>
    /// <param name="TrialErrorSdMm">Error of the shift of one trial at one flexion, rounding included, mm.</param>
    private sealed record Truth(IReadOnlyList<double> ShiftDifferenceMm, double ShiftAtExtensionPer10Anteversion, double ReadingErrorSd, double TrialErrorSdMm)
    {
        internal static Truth Of(TrackingStudyScenario s)
        {
            TrackingScenario t = s.Tracking;
            double reading = Math.Sqrt((s.RaterSd * s.RaterSd) + (s.AnteversionReadingSd * s.AnteversionReadingSd) + (1 / 12.0));
            double trial = Math.Sqrt((t.TrialSdMm * t.TrialSdMm) + (t.ReadingSdMm * t.ReadingSdMm) + (0.01 / 12.0));
            return new Truth(
                [.. Enumerable.Range(0, (DeepestFlexion / StepDegrees) + 1).Select(k => Math.Round(t.ExtensionShiftPriorMm * Math.Exp(-k * StepDegrees / t.ScaleDegrees), 4))],
                t.ExtensionShiftPer10Anteversion, Math.Round(reading, 4), Math.Round(trial, 4));
        }
    }
}
