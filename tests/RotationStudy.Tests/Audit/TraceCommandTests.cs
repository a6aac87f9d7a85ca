using System.Text.Json;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Audit;

/// <summary>From an estimate back to its rows, at the command line.</summary>
public sealed class TraceCommandTests(GrowthRun growth) : IClassFixture<GrowthRun>
{
    [Fact]
    public void An_estimate_leads_to_model_rows_hash_sources_and_version()
    {
        CommandLineRun trace = CommandLineRun.Of("trace", growth.Run, "Q1.age");
        Assert.True(trace.ExitCode == 0, trace.Error);
        foreach (string part in new[] { "Q1.age\n", "Linear regression", "108 rows of 27", "trace/Q1.csv", "Nobody of the population", "growth.csv, SHA-256 ", "Program ", "Head of the record" })
            Assert.Contains(part, trace.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_rows_are_named_by_their_ids_alone()
    {
        JsonElement told = JsonDocument.Parse(CommandLineRun.Of("trace", growth.Run, "Q1.age", "--rows", "--json").Output).RootElement;
        string[] rows = [.. told.GetProperty("rows").EnumerateArray().Select(r => r.GetString()!)];
        Assert.Equal(108, rows.Length);
        Assert.Equal(108, told.GetProperty("rows_analysed").GetInt32());
        Assert.All(rows, r => Assert.Matches("^[MF][0-9]{2},(8|10|12|14),yes,$", r));
    }

    [Fact]
    public void Every_id_of_the_list_can_be_traced_and_stands_in_the_report()
    {
        JsonElement list = JsonDocument.Parse(CommandLineRun.Of("trace", growth.Run, "--json").Output).RootElement;
        string report = File.ReadAllText(Path.Combine(growth.Run, "report.html"));
        string[] ids = [.. list.GetProperty("results").EnumerateArray().Select(r => r.GetProperty("id").GetString()!)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        foreach (string id in ids.Where(i => i.Split('.').Length == 2))
        {
            Assert.Equal(0, CommandLineRun.Of("trace", growth.Run, id, "--quiet").ExitCode);
            Assert.Contains($"id=\"result-{id}\"", report, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void An_unknown_id_is_answered_with_those_of_its_question()
    {
        CommandLineRun trace = CommandLineRun.Of("trace", growth.Run, "Q1.agee");
        Assert.Equal(1, trace.ExitCode);
        Assert.Contains("Q1.age", trace.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Verify_says_intact_with_the_head_and_names_what_was_changed()
    {
        Assert.Equal(0, CommandLineRun.Of("verify", growth.Run).ExitCode);
        string run = growth.CopyOfRun("changed");
        File.WriteAllText(Path.Combine(run, "trace", "Q1.csv"), "participant_id\n");
        CommandLineRun verify = CommandLineRun.Of("verify", run);
        Assert.Equal(6, verify.ExitCode);
        Assert.StartsWith("trace/Q1.csv: ", verify.Error, StringComparison.Ordinal);
        Assert.Equal(6, CommandLineRun.Of("trace", run, "Q1.age").ExitCode);
        Assert.Equal(6, CommandLineRun.Of("verify", growth.Run, "--head", new string('0', 64)).ExitCode);
    }
}
