using System.Text.Json;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Analyses.Tracking;

/// <summary>Curves over an arc and the correction for error of measurement: the shipped example, its truth, and odd input.</summary>
public sealed class CurvesAnalysisTests : Workspace
{
    private static readonly string Example = Path.Combine(Repository.Root, "protocols", "tracking-example");
    private static readonly string Shipped = Path.Combine(Example, "example-exports");

    [Fact]
    public void The_shipped_example_answers_every_question_and_its_rows_add_up()
    {
        StudyResults results = Run(Shipped);
        Assert.All(results.Questions, q => Assert.True(q.Answered, q.Answer));
        foreach (QuestionResult question in results.Questions.Where(q => q.Kind == "curves"))
            Assert.Equal(240, question.Counts.Rows + question.LeftOut.Sum(r => r.Rows));
        Assert.Equal(["T1", "T2"], results.Tracking.Select(t => t.Question));
        Assert.Empty(results.PlanFaults);
    }

    [Fact]
    public void The_true_difference_lies_within_the_band_and_the_groups_differ_in_extension()
    {
        TrackingResult shift = Run(Shipped).Tracking[0];
        double[] truth = Truth("shift_difference_mm");
        Assert.Equal(truth.Length, shift.Arc.Length);
        for (int j = 0; j < truth.Length; j++)
            Assert.InRange(truth[j], shift.Difference!.Lower[j], shift.Difference.Upper[j]);
        Assert.Equal(0, shift.Difference!.Apart[0].From);
        Assert.InRange(shift.Difference.Apart[^1].To, 10, 60);
        Assert.Equal(["knees that dislocated", "knees without dislocation"], shift.Groups.Select(g => g.Name));
        Assert.All(shift.Groups, g => Assert.NotEmpty(g.Singles));
    }

    [Fact]
    public void Bands_hold_the_truth_and_corrected_estimates_come_closer_to_it_over_many_made_up_studies()
    {
        double[] truth = Truth("shift_difference_mm");
        const int studies = 5;
        int held = 0;
        double planned = 0, corrected = 0;
        for (int seed = 1; seed <= studies; seed++)
        {
            TrackingStudyFolder.Write(TrackingStudyScenario.Shipped(), DemoScenario.Read(), seed, At($"study-{seed}"));
            StudyResults results = Run(At($"study-{seed}"), "T1", "T4", "T5");
            TrackingDifference difference = results.Tracking[0].Difference!;
            held += Enumerable.Range(0, truth.Length).All(j => truth[j] >= difference.Lower[j] && truth[j] <= difference.Upper[j]) ? 1 : 0;
            MeasurementErrorComparison error = results.Questions.Single(q => q.Id == "T5").Supplement.MeasurementError!;
            planned += error.Approaches[0].Estimates[0].Value / studies;
            corrected += error.Approaches[1].Estimates[0].Value / studies;
        }
        // Binomial(5, 0.95) falls below 3 with probability 0.001; many seeds are in docs/coverage/curves.md.
        Assert.InRange(held, 3, studies);
        // Truth 0.8 mm per 10 degrees; as fitted about 0.8 times the reliability.
        Assert.InRange(planned, 0.4, 0.75);
        Assert.InRange(corrected, 0.55, 1.05);
        Assert.True(corrected > 1.15 * planned);
    }

    [Fact]
    public void The_error_of_a_reading_and_of_a_trial_are_found()
    {
        StudyResults results = Run(Shipped);
        MeasurementErrorFacts reading = results.Questions.Single(q => q.Id == "T5").Supplement.MeasurementError!.Errors.Single();
        // A value is the mean of one or two readings, so its error lies below that of one reading.
        Assert.InRange(reading.Error, 0.7 * Single("reading_error_sd"), Single("reading_error_sd"));
        Assert.Contains("harmonic mean", reading.From);
        ResultTable trials = results.Questions.Single(q => q.Id == "T1").Tables.Single(t => t.Id == "trials");
        Assert.InRange(trials.Rows[0].Cells[2].Sort!.Value, 0.9 * Single("trial_error_sd_mm"), 1.1 * Single("trial_error_sd_mm"));
    }

    [Fact]
    public void With_the_labels_of_persons_exchanged_the_whole_arc_is_called_different_in_about_one_of_twenty()
    {
        const int studies = 8;
        int rejected = 0;
        TrackingStudyScenario none = TrackingStudyScenario.Shipped();
        none = none with { Participants = 24, Tracking = none.Tracking with { ExtensionShiftPriorMm = 0 } };
        for (int seed = 1; seed <= studies; seed++)
        {
            TrackingStudyFolder.Write(none, DemoScenario.Read(), seed, At($"null-{seed}"));
            rejected += Run(At($"null-{seed}"), "T2").Tracking[0].Difference!.PValue <= 0.05 ? 1 : 0;
        }
        // Binomial(8, 0.05) exceeds 3 with probability 0.0004; the full count is in docs/coverage/curves.md.
        Assert.InRange(rejected, 0, 3);
    }

    [Fact]
    public void The_committed_export_is_what_the_generator_writes()
    {
        TrackingStudyFolder.Write(TrackingStudyScenario.Shipped(), DemoScenario.Read(), DemoScenario.Seed, At("again"));
        foreach (string file in Directory.EnumerateFiles(At("again")))
            Assert.True(File.ReadAllBytes(file).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(Shipped, Path.GetFileName(file)))), Path.GetFileName(file));
    }

    [Fact]
    public void The_example_runs_from_the_command_line()
    {
        Assert.Equal(0, CommandLineRun.Of("cohort", "--tracking", "--to", At("made-up"), "--participants", "40", "--quiet").ExitCode);
        CommandLineRun run = CommandLineRun.Of("study", Example, At("made-up"), "--to", At("run"), "--quiet");
        Assert.Equal(0, run.ExitCode);
        string report = File.ReadAllText(At("run", "report.html"));
        Assert.Contains("Agreement of the trials of a side", report);
        Assert.Contains("Error of measurement", report);
        Assert.Equal(1, CommandLineRun.Of("cohort", "--tracking", "--raters", "--to", At("no")).ExitCode);
    }

    [Fact]
    public void A_group_of_few_people_gives_no_curves_and_says_why()
    {
        TrackingStudyScenario few = TrackingStudyScenario.Shipped() with { Participants = 12, UnstableShare = 0.2 };
        TrackingStudyFolder.Write(few, DemoScenario.Read(), 3, At("few"));
        StudyResults results = Run(At("few"), "T1");
        QuestionResult question = results.Questions[0];
        Assert.False(question.Answered);
        Assert.Contains("have a curve", question.Answer);
        // Found before anything is fitted, at its line.
        PlanFaultLine fault = Assert.Single(results.PlanFaults);
        Assert.True(fault.Stops);
        Assert.StartsWith("plan.yaml:", fault.Where);
        Assert.Empty(results.Tracking);
    }

    [Fact]
    public void A_point_that_nobody_recorded_and_single_gaps_are_told_or_left_out_at_their_point()
    {
        Directory.CreateDirectory(At("gaps"));
        foreach (string file in Directory.EnumerateFiles(Shipped))
            File.Copy(file, At("gaps", Path.GetFileName(file)));
        string[] rows = File.ReadAllLines(At("gaps", "tracking.csv"));
        // One knee alone has a value at 90 degrees; all others end at 80.
        File.WriteAllLines(At("gaps", "tracking.csv"), rows.Where((r, i) => i < 31 || r.Split(',')[3] != "90"));
        StudyResults results = Run(At("gaps"), "T1");
        Assert.Equal(80, results.Tracking[0].Arc[^1]);
        Assert.Contains(results.Questions[0].Warnings, w => w.Contains("left out: 90", StringComparison.Ordinal));
    }

    [Fact]
    public void Curves_that_nobody_has_and_readings_never_repeated_are_found_before_any_fit()
    {
        Directory.CreateDirectory(At("empty"));
        foreach (string file in Directory.EnumerateFiles(Shipped))
            File.Copy(file, At("empty", Path.GetFileName(file)));
        string[] rows = File.ReadAllLines(At("empty", "tracking.csv"));
        File.WriteAllLines(At("empty", "tracking.csv"), rows.Select((r, i) => i == 0 ? r : string.Join(',', r.Split(',').Select((c, j) => j == 5 ? "NA" : c))));
        string[] readings = File.ReadAllLines(At("empty", "readings.csv"));
        HashSet<string> seen = [];
        File.WriteAllLines(At("empty", "readings.csv"), readings.Where(r => seen.Add(string.Join(',', r.Split(',')[..2]))));
        StudyResults results = Run(At("empty"), "T2", "T4", "T5");
        Assert.Contains(results.PlanFaults, f => f.Question == "T2" && f.Stops && f.What.Contains("'tracking.tilt_deg' has no value", StringComparison.Ordinal));
        Assert.Contains(results.PlanFaults, f => f.Question == "T2" && !f.Stops && f.What.Contains("tilt_at_extension", StringComparison.Ordinal));
        Assert.Contains(results.PlanFaults, f => f.Question == "T5" && !f.Stops && f.What.Contains("fewer than two participants who were read twice", StringComparison.Ordinal));
        QuestionResult question = results.Questions.Single(q => q.Id == "T5");
        Assert.True(question.Answered);
        Assert.StartsWith("No correction for error of measurement", question.Supplement.MeasurementError!.Sentence);
    }

    private static StudyResults Run(string exports, params string[] questions)
    {
        StudyProtocol protocol = ProtocolReader.Read(Example);
        if (questions.Length > 0)
            protocol = protocol with { Plan = protocol.Plan with { Questions = [.. protocol.Plan.Questions.Where(q => questions.Contains(q.Id))] } };
        return StudyPipeline.Run(protocol, RecordChecker.Check(protocol, ExportReader.Read(exports, protocol)), "test");
    }

    private static double[] Truth(string name) => [.. TruthElement(name).EnumerateArray().Select(e => e.GetDouble())];

    private static double Single(string name) => TruthElement(name).GetDouble();

    private static JsonElement TruthElement(string name)
        => JsonDocument.Parse(File.ReadAllText(Path.Combine(Shipped, "truth.json"))).RootElement.GetProperty("truth").GetProperty(name);
}
