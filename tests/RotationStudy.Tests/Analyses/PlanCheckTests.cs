using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Analyses;

/// <summary>What the plan asks and the data cannot give is found before any fit, all at once, at its place.</summary>
public sealed class PlanCheckTests : Workspace
{
    [Fact]
    public void The_demo_plan_can_be_carried_out() => Assert.Empty(Run().PlanFaults);

    [Fact]
    public void Without_events_each_question_of_events_says_so_at_its_own_line()
    {
        Edit("events.csv", lines => lines[..1]);
        StudyResults results = Run();
        string[] places = [.. results.PlanFaults.Select(f => $"{f.Question} {f.Where}")];
        Assert.Equal(["Q4 " + LineOf("outcome: ever_dislocated"), "Q5 " + LineOf("outcome: dislocations"), "Q6 " + LineOf("event: ever_dislocated")], places.Where(p => p[..2] is "Q4" or "Q5" or "Q6"));
        Assert.All(results.PlanFaults.Where(f => f.Question is "Q4" or "Q5" or "Q6"), f => Assert.True(f.Stops));
        Assert.False(results.Questions.Single(q => q.Id == "Q5").Answered);
        Assert.Contains("there are no events: 'dislocations' is 0 in all", results.Questions.Single(q => q.Id == "Q5").Answer);
    }

    [Fact]
    public void Faults_of_several_questions_come_together()
    {
        Edit("events.csv", lines => lines[..1]);
        Edit("imaging.csv", lines => Column(lines, "femoral_anteversion_deg", _ => "20"));
        StudyResults results = Run();
        Assert.Contains(results.PlanFaults, f => f.Question == "Q2" && f.What.StartsWith("The exposure 'anteversion' has the same value in all") && f.Stops);
        Assert.Equal(2, results.PlanFaults.Count(f => f.Question == "Q5"));
        string answer = results.Questions.Single(q => q.Id == "Q5").Answer;
        Assert.Contains("the exposure 'anteversion' has the same value", answer);
        Assert.Contains("there are no events", answer);
    }

    [Fact]
    public void A_measure_without_any_value_is_named_with_the_reason()
    {
        Edit("outcomes.csv", lines => Column(lines, "knee_function_score", _ => ""));
        PlanFaultLine fault = Assert.Single(Run().PlanFaults, f => f.Question == "Q3");
        Assert.StartsWith("'function_score' has no value in any of the 600 rows of this question (Knee function score at 12 months: ", fault.What);
        Assert.Equal(LineOf("outcome: function_score"), fault.Where);
    }

    [Fact]
    public void An_outcome_that_never_varies_is_found()
    {
        Edit("outcomes.csv", lines => Column(lines, "knee_function_score", _ => "80"));
        Assert.StartsWith("The outcome 'function_score' has the same value in all", Assert.Single(Run().PlanFaults, f => f.Question == "Q3").What);
    }

    [Fact]
    public void More_parameters_than_events_are_refused_before_the_fit()
    {
        Edit("events.csv", lines => [lines[0], .. lines.Skip(1).Where(l => l.Contains("dislocation", StringComparison.Ordinal)).TakeLast(4)]);
        StudyResults results = Run();
        PlanFaultLine fault = Assert.Single(results.PlanFaults, f => f.Question == "Q6" && f.What.Contains("parameters are planned", StringComparison.Ordinal));
        Assert.Matches("^5 parameters are planned for [1-4] events\\.$", fault.What);
        Assert.False(results.Questions.Single(q => q.Id == "Q6").Answered);
        Assert.NotEmpty(results.Questions.Single(q => q.Id == "Q6").Curves);
    }

    [Fact]
    public void A_population_that_nobody_belongs_to_is_found()
    {
        StudyProtocol protocol = ProtocolReader.Read(Protocol);
        protocol = protocol with
        {
            Plan = protocol.Plan with
            {
                Questions = [.. protocol.Plan.Questions.Select(q => q.Id == "Q2" ? q with { Keep = new RowFilter("maturity", []) } : q)],
            },
        };
        CopyOnce();
        Assert.Equal("The population of this question is empty: no row is kept.", Assert.Single(Run(protocol).PlanFaults, f => f.Question == "Q2").What);
    }

    [Fact]
    public void A_group_without_events_is_told_with_its_number()
    {
        CopyOnce();
        string[] men = [.. File.ReadAllLines(At("exports", "participants.csv")).Skip(1).Where(l => l.Split(',')[2] == "M").Select(l => l.Split(',')[0])];
        Edit("events.csv", lines => lines.Where(l => !men.Contains(l.Split(',')[0])));
        StudyResults results = Run();
        Assert.Contains(results.PlanFaults, f => f.Question == "Q6" && !f.Stops && f.What.Contains("in 'sex' has an event", StringComparison.Ordinal));
    }

    [Fact]
    public void The_command_line_prints_every_fault_with_its_place_and_still_writes_the_report()
    {
        CopyOnce();
        Edit("events.csv", lines => lines[..1]);
        CommandLineRun run = CommandLineRun.Of("study", Protocol, At("exports"), "--to", At("run"), "--quiet");
        Assert.Equal(5, run.ExitCode);
        foreach (string place in new[] { LineOf("outcome: ever_dislocated"), LineOf("outcome: dislocations"), LineOf("event: ever_dislocated") })
            Assert.Contains(place + ": Q", run.Error);
        Assert.Contains("Where the plan and these data do not fit", File.ReadAllText(At("run", "report.html")));
    }

    private StudyResults Run(StudyProtocol? protocol = null)
    {
        CopyOnce();
        protocol ??= ProtocolReader.Read(Protocol);
        // The choices are no part of these tests, and take longest.
        protocol = protocol with { Plan = protocol.Plan with { Choices = [] } };
        return StudyPipeline.Run(protocol, RecordChecker.Check(protocol, ExportReader.Read(At("exports"), protocol)), "test");
    }

    private void CopyOnce()
    {
        if (!Directory.Exists(At("exports")))
            CopyExport();
    }

    private new void Edit(string file, Func<string[], IEnumerable<string>> change)
    {
        CopyOnce();
        base.Edit(file, change);
    }

    private static IEnumerable<string> Column(string[] lines, string name, Func<string, string> value)
    {
        int at = lines[0].Split(',').ToList().IndexOf(name);
        return lines.Select((line, i) =>
        {
            string[] cells = line.Split(',');
            cells[at] = i == 0 ? cells[at] : value(cells[at]);
            return string.Join(',', cells);
        });
    }

    /// <summary>Place of the value of the first such line of plan.yaml.</summary>
    private static string LineOf(string text)
    {
        string[] lines = File.ReadAllLines(Path.Combine(Protocol, "plan.yaml"));
        int at = Array.FindIndex(lines, l => l.Trim() == text);
        return $"plan.yaml:{at + 1}:{lines[at].IndexOf(": ", StringComparison.Ordinal) + 3}";
    }
}
