using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Analyses;

/// <summary>Screening, completeness of follow-up and missing values of the demo, counted again here from the files.</summary>
public sealed class WhoTookPartTests : Workspace
{
    private static readonly string Demo = Path.Combine(Repository.Root, "synthetic-data", "demo");
    private static readonly StudyProtocol Plan = Read();
    private static readonly StudyResults Results = Run(Demo);

    [Fact]
    public void Those_screened_are_those_enrolled_and_those_left_out_with_a_reason()
    {
        string[] log = File.ReadAllLines(Path.Combine(Demo, "screening.csv"))[1..];
        FlowStep screened = Results.Flow[0], enrolled = Results.Flow[1];
        Assert.Equal(("Screened", log.Length), (screened.Label, screened.Participants));
        Assert.Equal(screened.Participants, enrolled.Participants + enrolled.LeftOut.Sum(r => r.Participants));
        Assert.Equal(log.Count(l => l.EndsWith(",declined", StringComparison.Ordinal)), enrolled.LeftOut.Single(r => r.Reason == "declined").Participants);
    }

    [Fact]
    public void Completeness_is_observed_over_potential_time_within_the_planned_span()
    {
        double observed = 0, potential = 0;
        foreach (string[] cells in File.ReadAllLines(Path.Combine(Demo, "participants.csv")).Skip(1).Select(l => l.Split(',')))
        {
            double seen = Math.Min(730, double.Parse(cells[7], System.Globalization.CultureInfo.InvariantCulture));
            observed += seen;
            potential += cells[8] == "study_end" ? seen : 730;
        }
        Assert.Equal(observed, Results.FollowUp!.ObservedDays, 1e-9 * observed);
        Assert.Equal(potential, Results.FollowUp.PotentialDays, 1e-9 * potential);
        Assert.Equal(observed / potential, Results.FollowUp.Completeness, 1e-12);
        Assert.Equal(300, Results.FollowUp.Ends.Sum(e => e.Participants));
    }

    [Fact]
    public void The_map_and_the_patterns_count_every_row()
    {
        MissingLine laxity = Results.Missing.Map.Single(l => l.Measure == "laxity_nine");
        MeasureFacts facts = Results.Measures.Single(m => m.Id == "laxity_nine");
        Assert.Equal((facts.Present + facts.Absent, facts.Absent), (laxity.Rows, laxity.Missing));
        Assert.Equal(laxity.Missing, laxity.Reasons.Sum(r => r.Rows));
        foreach (MissingPatterns patterns in Results.Missing.Patterns)
        {
            // All 600 knees, or the rows that the question keeps.
            QuestionResult question = Results.Questions.Single(q => q.Id == patterns.Question);
            Assert.Equal(question.Counts.Rows + question.LeftOut.Sum(r => r.Rows), patterns.Rows.Sum(r => r.Rows) + patterns.OtherRows);
        }
        Assert.Equal(600, Results.Missing.Patterns.Where(p => p.Question == "Q5").Sum(p => p.Rows.Sum(r => r.Rows) + p.OtherRows));
        QuestionResult q5 = Results.Questions.Single(q => q.Id == "Q5");
        Assert.Equal(q5.Counts.Rows, Results.Missing.Patterns.Single(p => p.Question == "Q5").Rows.Single(r => !r.Missing.Contains(true)).Rows);
    }

    [Fact]
    public void A_log_that_disagrees_with_the_roster_says_so()
    {
        CopyExport();
        Edit("screening.csv", lines => lines.Where((l, i) => i == 0 || !l.Contains(",enrolled,", StringComparison.Ordinal) || i % 2 == 0));
        FlowStep enrolled = Run(At("exports")).Flow[1];
        Assert.Contains(enrolled.LeftOut, r => r.Reason.StartsWith("in the roster, but not enrolled in the screening log", StringComparison.Ordinal));
    }

    [Fact]
    public void A_group_of_very_few_people_is_not_set_apart_in_the_baseline_table()
    {
        CopyExport();
        Edit("events.csv", lines => [lines[0], .. lines.Skip(1).Where(l => l.Contains("dislocation", StringComparison.Ordinal)).TakeLast(2)]);
        ResultTable table = Run(At("exports")).Questions.Single(q => q.Id == "Q1").Tables.Single();
        Assert.Equal(2, table.Columns.Length);
    }

    private static StudyProtocol Read()
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
        return protocol with { Plan = protocol.Plan with { Choices = [] } };
    }

    private static StudyResults Run(string exports) => StudyPipeline.Run(Plan, RecordChecker.Check(Plan, ExportReader.Read(exports, Plan)), "test");
}
