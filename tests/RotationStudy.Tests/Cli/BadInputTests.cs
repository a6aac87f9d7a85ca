using System.Text;
using System.Text.Json;

namespace RotationStudy.Tests.Cli;

/// <summary>Each kind of bad input: the exit code, the message with its place, and no half-written output.</summary>
public sealed class BadInputTests : Workspace
{
    [Fact]
    public void A_protocol_folder_that_is_not_there_gives_4()
        => Refused(4, "There is no protocol folder", "study", At("nowhere"), CopyExport(), "--to", At("run"));

    [Fact]
    public void An_export_folder_that_is_not_there_gives_4()
        => Refused(4, "There is no export folder", "study", Protocol, At("nowhere"), "--to", At("run"));

    [Fact]
    public void A_fault_in_the_protocol_gives_2_with_file_line_column_and_the_nearest_name()
    {
        string plan = Path.Combine(CopyProtocol(), "plan.yaml");
        File.WriteAllText(plan, File.ReadAllText(plan).Replace("outcome: laxity_nine", "outcome: laxity_nin", StringComparison.Ordinal));
        CommandLineRun run = Refused(2, "laxity_nine", "study", At("protocol"), CopyExport(), "--to", At("run"));
        Assert.Matches(@"plan\.yaml:\d+:\d+: ", run.Error);
    }

    [Fact]
    public void A_missing_file_gives_3()
    {
        File.Delete(Path.Combine(CopyExport(), "events.csv"));
        StudyRefused("events.csv", "missing");
    }

    [Fact]
    public void An_empty_file_gives_3()
    {
        File.WriteAllText(Path.Combine(CopyExport(), "visits.csv"), "");
        StudyRefused("visits.csv", "empty");
    }

    [Fact]
    public void A_wrong_separator_gives_3()
    {
        CopyExport();
        Edit("visits.csv", lines => lines.Select(l => l.Replace(',', ';')));
        StudyRefused("visits.csv", "comma");
    }

    [Fact]
    public void A_wrong_encoding_gives_3_with_the_line()
    {
        string path = Path.Combine(CopyExport(), "visits.csv");
        int line = File.ReadLines(path).Count() + 1;
        File.WriteAllBytes(path, [.. File.ReadAllBytes(path), .. Encoding.Latin1.GetBytes("Bäcker,baseline,0\n")]);
        StudyRefused($"visits.csv:{line}", "UTF-8");
    }

    [Fact]
    public void A_required_column_too_few_gives_3()
    {
        CopyExport();
        Edit("visits.csv", lines => lines.Select(l => l[..l.LastIndexOf(',')]));
        StudyRefused("visits.csv", "visit_day");
    }

    [Fact]
    public void A_column_too_many_is_named_and_not_read()
    {
        CopyExport();
        Edit("visits.csv", lines => lines.Select((l, i) => l + (i == 0 ? ",mood" : ",good")));
        Found("header.unknown", "mood");
    }

    [Fact]
    public void A_row_with_a_cell_too_many_is_set_aside_with_its_line()
    {
        CopyExport();
        Edit("visits.csv", lines => lines.Select((l, i) => i == 4 ? l + ",9" : l));
        Found("row.fields", "visits.csv:5");
    }

    [Fact]
    public void A_participant_without_visits_is_asked_about()
    {
        CopyExport();
        Edit("participants.csv", lines => [.. lines, "A-999,A,F,14,open,160,50,900,study_end,yes"]);
        Found("participant.no_visit", "A-999");
    }

    [Fact]
    public void A_side_that_is_neither_is_set_aside_with_its_line_and_value()
    {
        CopyExport();
        Edit("events.csv", lines => lines.Select((l, i) => i == 1
            ? l.Replace(",R,", ",both,", StringComparison.Ordinal).Replace(",L,", ",both,", StringComparison.Ordinal)
            : l));
        Found("side.unknown", "events.csv:2", "both");
    }

    [Fact]
    public void An_event_before_enrolment_is_set_aside()
    {
        CopyExport();
        Edit("events.csv", lines => [.. lines, lines[1][..lines[1].IndexOf(',', StringComparison.Ordinal)] + ",L,9,-30,dislocation,none"]);
        Found("day.before_enrolment", "-30");
    }

    [Fact]
    public void No_events_at_all_gives_5_and_a_report_that_says_why()
    {
        CopyExport();
        Edit("events.csv", lines => lines.Take(1));
        CommandLineRun run = CommandLineRun.Of("study", Protocol, At("exports"), "--to", At("run"));
        Assert.Equal(5, run.ExitCode);
        Assert.Contains("could not be answered", run.Error);
        Assert.True(File.Exists(At("run", "report.html")));
    }

    [Fact]
    public void One_site_only_is_noted_and_the_study_goes_on()
    {
        CopyExport();
        foreach (string file in Directory.EnumerateFiles(At("exports"), "*.csv").Select(f => Path.GetFileName(f)))
            Edit(file, lines => lines.Where((l, i) => i == 0 || l.StartsWith("A-", StringComparison.Ordinal)));
        Found("site.only_one");
    }

    [Fact]
    public void A_place_that_is_no_run_is_never_replaced()
    {
        Directory.CreateDirectory(At("mine"));
        File.WriteAllText(At("mine", "thesis.txt"), "mine");
        CommandLineRun run = CommandLineRun.Of("study", Protocol, CopyExport(), "--to", At("mine"), "--replace");
        Assert.Equal(4, run.ExitCode);
        Assert.Equal(["thesis.txt"], Directory.GetFileSystemEntries(At("mine")).Select(f => Path.GetFileName(f)));
    }

    [Fact]
    public void Findings_that_stop_are_in_json_too()
    {
        File.Delete(Path.Combine(CopyExport(), "events.csv"));
        CommandLineRun run = CommandLineRun.Of("study", Protocol, At("exports"), "--to", At("run"), "--json");
        using JsonDocument said = JsonDocument.Parse(run.Output);
        Assert.Equal(3, said.RootElement.GetProperty("exit_code").GetInt32());
        Assert.Contains("events.csv", said.RootElement.GetProperty("faults")[0].GetString());
    }

    [Fact]
    public void The_query_list_is_written_where_asked()
    {
        CommandLineRun run = CommandLineRun.Of("examine", Protocol, CopyExport(), "--to", At("queries"));
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("range.possible", File.ReadAllText(At("queries", "query-list.csv")));
    }

    private void StudyRefused(params string[] words)
    {
        CommandLineRun run = Refused(3, words[0], "study", Protocol, At("exports"), "--to", At("run"));
        Assert.All(words, w => Assert.Contains(w, run.Error));
        Assert.Contains("Nothing was analysed and nothing was written.", run.Error);
    }

    private CommandLineRun Refused(int code, string words, params string[] args)
    {
        string[] before = Directory.GetFileSystemEntries(Root);
        CommandLineRun run = CommandLineRun.Of(args);
        Assert.True(code == run.ExitCode, $"exit code {run.ExitCode}: {run.Error}");
        Assert.Contains(words, run.Error);
        Assert.DoesNotContain("   at ", run.Error);
        Assert.Equal(before.Order(), Directory.GetFileSystemEntries(Root).Order());
        return run;
    }

    private void Found(string rule, params string[] words)
    {
        CommandLineRun run = CommandLineRun.Of("examine", Protocol, At("exports"));
        Assert.Equal(0, run.ExitCode);
        Assert.Contains(rule, run.Output);
        Assert.All(words, w => Assert.Contains(w, run.Output));
    }
}
