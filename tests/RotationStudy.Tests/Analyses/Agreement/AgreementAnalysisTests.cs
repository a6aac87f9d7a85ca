using System.Collections.Immutable;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study;
using RotationStudy.Study.Analyses.Agreement;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Analyses.Agreement;

/// <summary>Agreement of raters: a published table, the shipped sub-study, and the truth of a large made-up one.</summary>
public sealed class AgreementAnalysisTests : Workspace
{
    // Shrout and Fleiss 1979 (Psychol Bull 86:420-428), Table 2: four judges rate six targets.
    private static readonly double[][] Judges = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]];

    private static readonly string RaterProtocol = Path.Combine(Repository.Root, "protocols", "rater-agreement");
    private static readonly string Shipped = Path.Combine(RaterProtocol, "example-exports");

    [Fact]
    public void The_published_table_gives_the_published_correlations()
    {
        // Table 4 there: ICC(1,1) 0.17, ICC(2,1) 0.29, ICC(3,1) 0.71.
        ReadingTables tables = new(Readings(session: 0), Keys());
        ReliabilityLine line = Reliability.BetweenRaters("all", "", tables.ByRater(0, null), 3, [])!;
        Assert.Equal((0.29, 0.71), (Math.Round(line.Agreement, 2), Math.Round(line.Consistency!.Value, 2)));
        Assert.Equal((6, 4, 0), (line.Subjects, line.Ratings, line.Incomplete));
        // One-way: 0.17 from the same table. Judges as sessions of one rater would be rated so.
        Assert.Equal(0.17, Math.Round(Reliability.WithinRater("rater 1", "", tables.ByRater(0, null), 3, [])!.Agreement, 2));
    }

    [Fact]
    public void Fewer_people_than_may_be_printed_give_a_warning_and_no_line()
    {
        List<string> warnings = [];
        Assert.Null(Reliability.BetweenRaters("Site C", "left", new ReadingTables(Readings(0), Keys()).ByRater(0, [0, 1, 2, 3]), 5, warnings));
        Assert.Equal("No correlation between raters, Site C, left: fewer than 5 people have all ratings.", Assert.Single(warnings));
    }

    [Fact]
    public void Raters_who_took_turns_are_judged_by_subjects_that_any_two_read()
    {
        // Shrout and Fleiss's table in one way: ICC(1,1) 0.17, and a mean square within of 6.26 (recalled).
        ReadingSet readings = Readings(0);
        ReliabilityLine line = Reliability.BetweenAnyRaters("all", "", readings.Rows, 3, [])!;
        Assert.Equal(0.17, Math.Round(line.Agreement, 2));
        Assert.Equal(6.26, Math.Round(line.Error * line.Error, 2));
        Assert.Null(line.Consistency);
        // Two judges each, another pair for every target: still six subjects, and a target read once is counted apart.
        ReadingRow[] turns = [.. readings.Rows.Where(r => r.Rater == r.Participant % 4 || r.Rater == (r.Participant + 1) % 4)];
        line = Reliability.BetweenAnyRaters("all", "", turns[..^1], 3, [])!;
        Assert.Equal((5, 1, 2), (line.Subjects, line.Incomplete, line.Ratings));
    }

    [Fact]
    public void A_subject_without_all_ratings_is_left_out_and_counted()
    {
        ReadingSet readings = Readings(0);
        CompleteTable table = new ReadingTables(readings with { Rows = readings.Rows.RemoveAt(5) }, Keys()).ByRater(0, null);
        Assert.Equal((5, 1), (table.Subjects, table.Incomplete));
    }

    [Fact]
    public void Both_sides_of_a_person_are_pairs_of_one_subject_in_the_limits()
    {
        // Differences 1, 3 and 2, 4 and 0, 2: means 2, 3, 1; the bias is their mean, 2.
        List<ReadingPair> pairs = [new(0, 11, 10), new(0, 13, 10), new(1, 12, 10), new(1, 14, 10), new(2, 10, 10), new(2, 12, 10)];
        LimitsLine line = PairLimits.Of("a", "b", pairs, slope: false, [])!;
        Assert.Equal((3, 6), (line.Participants, line.Pairs));
        Assert.Equal(2, line.Bias, 12);
        // Variance of the means 1, within 2, so of a single difference 1 + (1 - 1/2) 2 = 2.
        Assert.Equal(1.959963984540054 * Math.Sqrt(2), line.Upper - line.Bias, 9);
    }

    [Fact]
    public void The_shipped_sub_study_answers_every_question_and_its_rows_add_up()
    {
        StudyResults results = Run(Shipped);
        Assert.All(results.Questions, q => Assert.True(q.Answered, q.Answer));
        foreach (QuestionResult question in results.Questions.Where(q => q.Kind == "agreement"))
        {
            Assert.Equal(80, question.Counts.Rows + question.LeftOut.Sum(r => r.Rows));
            Assert.Contains(question.Agreement!.Reliability, l => l.Group == "Site A");
            Assert.DoesNotContain(question.Agreement.Reliability, l => l.Subjects < 5);
            Assert.NotEmpty(question.Tables);
        }
        // Each of three raters against imaging: everybody, and each of three sites.
        LimitsLine[] imaging = [.. results.Questions.Single(q => q.Id == "A3").Agreement!.Limits.Where(l => l.Slope is not null)];
        Assert.Equal(3, imaging.Count(l => l.Group == "all"));
        Assert.All(imaging.Where(l => l.Group == "all"), l => Assert.Equal(l.Pairs, imaging.Where(o => o.First == l.First && o.Group != "all").Sum(o => o.Pairs)));
    }

    [Fact]
    public void A_large_sub_study_gives_back_the_error_that_the_generator_put_there()
    {
        RaterStudyScenario study = RaterStudyScenario.Shipped() with { Participants = 500 };
        RaterStudyFolder.Write(study, DemoScenario.Read(), 4, At("large"));
        AgreementResult found = Run(At("large")).Questions.Single(q => q.Id == "A1").Agreement!;
        // Within a rater: reading 3.5, rounding (0.7 * 25 + 0.3) / 12, day 1.5, session 1; the last rests on three raters only.
        double within = (3.5 * 3.5) + (((0.7 * 25) + 0.3) / 12) + (1.5 * 1.5);
        double[] errors = [.. found.Reliability.Where(l => l.Scope == "within rater").Select(l => l.Error)];
        Assert.Equal(6, errors.Length);
        Assert.InRange(Math.Sqrt(errors.Average(e => e * e)), Math.Sqrt(within) - 0.1, Math.Sqrt(within + 3));
        // Between raters without their constant errors: consistency is subjects over subjects and residual.
        ReliabilityLine left = found.Reliability.First(l => l.Scope == "between raters");
        Assert.True(left.Consistency > left.Agreement);
    }

    [Fact]
    public void The_committed_export_is_what_the_generator_writes()
    {
        RaterStudyFolder.Write(RaterStudyScenario.Shipped(), DemoScenario.Read(), DemoScenario.Seed, At("again"));
        foreach (string file in Directory.EnumerateFiles(At("again")))
            Assert.True(File.ReadAllBytes(file).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(Shipped, Path.GetFileName(file)))), Path.GetFileName(file));
    }

    [Fact]
    public void The_sub_study_runs_from_the_command_line()
    {
        Assert.Equal(0, CommandLineRun.Of("cohort", "--raters", "--to", At("raters"), "--participants", "12", "--quiet").ExitCode);
        CommandLineRun run = CommandLineRun.Of("study", RaterProtocol, At("raters"), "--to", At("run"), "--quiet");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Smallest detectable change", File.ReadAllText(At("run", "report.html")));
        Assert.Equal(1, CommandLineRun.Of("cohort", "--raters", "--scenario", "x.yaml", "--to", At("no")).ExitCode);
    }

    private static StudyResults Run(string exports)
    {
        StudyProtocol protocol = ProtocolReader.Read(RaterProtocol);
        return StudyPipeline.Run(protocol, RecordChecker.Check(protocol, ExportReader.Read(exports, protocol)), "test");
    }

    private static ReadingSet Readings(int session)
        => new("Rating", null, ["1", "2", "3", "4"], [""],
            [.. Judges.SelectMany((target, i) => target.Select((value, j) => new ReadingRow(i, -1, session, j, value)))]);

    private static StudyKeys Keys() => new([.. Enumerable.Range(0, Judges.Length).Select(i => $"T{i}")], ImmutableArray<string>.Empty, []);
}
