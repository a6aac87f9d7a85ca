using System.Text.Json;
using RotationStudy.Report;
using RotationStudy.Report.Record;
using RotationStudy.Tests.Report;

namespace RotationStudy.Tests.Cli;

public sealed class FigureCommandTests : Workspace
{
    [Fact]
    public void A_figure_is_redrawn_and_what_was_changed_lies_beside_it()
    {
        CommandLineRun run = CommandLineRun.Of("figure", FinishedRun(), Forest, "--for", "slide_dark", "--to", At("slides"), "--title", "Anew", "--questions", "Q5", "Q4", "--across", "0.5", "8");

        Assert.Equal(0, run.ExitCode);
        string[] endings = [.. Directory.EnumerateFiles(At("slides")).Select(Path.GetExtension).Order(StringComparer.Ordinal)!];
        Assert.Equal([".csv", ".json", ".pdf", ".png", ".svg", ".txt"], endings);
        using JsonDocument beside = JsonDocument.Parse(File.ReadAllText(At("slides", $"{Forest}-slide_dark.json")));
        Assert.Equal("Anew", beside.RootElement.GetProperty("changed_title").GetString());
        Assert.Equal(["Q5", "Q4"], beside.RootElement.GetProperty("changed_questions").EnumerateArray().Select(q => q.GetString()));
        Assert.Contains(">Anew<", File.ReadAllText(At("slides", $"{Forest}-slide_dark.svg")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("has no figure 'pie'", "pie", "poster")]
    [InlineData("No use of a figure is called 'napkin'", "FOREST", "napkin")]
    [InlineData("does not draw question 'Q99'", "FOREST", "poster", "--questions", "Q99")]
    [InlineData("the lower end first", "FOREST", "poster", "--across", "8", "0.5")]
    public void A_change_that_does_not_suit_gives_1_and_writes_nothing(string phrase, string figure, string use, params string[] changes)
    {
        string id = figure == "FOREST" ? Forest : figure;
        CommandLineRun run = CommandLineRun.Of(["figure", FinishedRun(), id, "--for", use, "--to", At("out"), .. changes]);

        Assert.Equal(1, run.ExitCode);
        Assert.Contains(phrase, run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("out")));
    }

    [Fact]
    public void Chosen_figures_become_a_dark_deck_and_a_stranger_is_refused()
    {
        string run = FinishedRun();
        Assert.Equal(0, CommandLineRun.Of("slides", run, "--to", At("talk"), "--dark", "--figures", Forest).ExitCode);
        Assert.Equal(["slides-dark.pptx"], Directory.EnumerateFiles(At("talk")).Select(Path.GetFileName));
        CommandLineRun refused = CommandLineRun.Of("slides", run, "--to", At("other"), "--figures", "pie");
        Assert.Equal(1, refused.ExitCode);
        Assert.Contains("has no figure 'pie'", refused.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("other")));
    }

    [Fact]
    public void A_folder_without_a_run_gives_4()
    {
        CommandLineRun run = CommandLineRun.Of("figure", At("nowhere"), "forest", "--for", "poster", "--to", At("out"));
        Assert.Equal(4, run.ExitCode);
    }

    private static string Forest => SampleResults.Study().Figures[3].Id;

    private string FinishedRun()
    {
        using RunFolder folder = RunFolder.Open(At("run"));
        StudyReport.Write(SampleResults.Study(), folder);
        return At("run");
    }
}
