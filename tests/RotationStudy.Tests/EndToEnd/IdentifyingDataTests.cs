using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>An export with identifying data stops every command with exit code 3, and nothing that is written repeats what was found.</summary>
public sealed class IdentifyingDataTests : Workspace
{
    private const string Name = "Marlene Quandt";

    [Theory]
    [InlineData("study")]
    [InlineData("archive")]
    public void Nothing_is_written(string command)
    {
        Plant();
        CommandLineRun run = CommandLineRun.Of(command, Protocol, At("exports"), "--to", At("run"), "--json");
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("identity.", Rules(), StringComparison.Ordinal);
        Assert.Contains("visits.csv:3", run.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("Quandt", run.Output + run.Error, StringComparison.Ordinal);
        Assert.Equal([At("exports")], Directory.EnumerateFileSystemEntries(Root));
    }

    [Fact]
    public void The_report_of_an_examination_names_file_column_rule_and_line_and_no_value()
    {
        Plant();
        CommandLineRun run = CommandLineRun.Of("examine", Protocol, At("exports"), "--to", At("out"));
        Assert.Equal(3, run.ExitCode);
        string report = File.ReadAllText(At("out", "identifying-data.csv"));
        Assert.Contains("visits.csv,visit,identity.name,a person's name,3,", report, StringComparison.Ordinal);
        foreach (string file in Directory.EnumerateFiles(At("out"), "*.csv", SearchOption.AllDirectories))
            Assert.DoesNotContain("Quandt", File.ReadAllText(file), StringComparison.Ordinal);
        Assert.DoesNotContain("Quandt", run.Output + run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_rare_combination_stops_a_study_whose_protocol_asks_for_groups()
    {
        string protocol = CopyProtocol();
        File.WriteAllText(Path.Combine(protocol, "deidentification.yaml"), "smallest_group: 5\nquasi_identifiers:\n  - { column: sex }\n  - { column: age_years, width: 1 }\n");
        CommandLineRun run = CommandLineRun.Of("study", protocol, CopyExport(), "--to", At("run"));
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("Fewer than 5 participants share a combination of sex, age_years", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("run")));
    }

    [Fact]
    public void Without_identifying_data_there_is_no_report_of_any()
    {
        Assert.Equal(0, CommandLineRun.Of("examine", Protocol, CopyExport(), "--to", At("out")).ExitCode);
        Assert.False(File.Exists(At("out", "identifying-data.csv")));
        Assert.True(File.Exists(At("out", "queries", "A.xlsx")));
    }

    private void Plant()
    {
        CopyExport();
        Edit("visits.csv", lines => lines.Select((l, i) => i == 2 ? string.Join(',', l.Split(',').Select((c, at) => at == 1 ? Name : c)) : l));
    }

    private string Rules() => CommandLineRun.Of("examine", Protocol, At("exports")).Output;
}
