using System.Text.Json;

namespace RotationStudy.Tests.Cli;

public sealed class UsageTests : Workspace
{
    [Fact]
    public void Help_says_what_there_is_with_examples_and_exit_codes()
    {
        CommandLineRun run = CommandLineRun.Of("--help");
        Assert.Equal(0, run.ExitCode);
        foreach (string word in (string[])["demo", "study", "examine", "protocol", "cohort", "Examples:", "Exit codes:", "130"])
            Assert.Contains(word, run.Output);
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("study")]
    [InlineData("examine")]
    [InlineData("protocol")]
    [InlineData("cohort")]
    public void Help_of_a_command_shows_an_example_of_that_command(string command)
    {
        CommandLineRun run = CommandLineRun.Of(command, "--help");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains($"  rotationstudy {command} ", run.Output);
    }

    [Theory]
    [InlineData("Required argument 'protocol' missing", "study")]
    [InlineData("Option '--to' is required.", "cohort")]
    [InlineData("'twelve'", "cohort", "--to", "x", "--participants", "twelve")]
    [InlineData("'--folder'", "demo", "--folder", "x")]
    public void A_command_line_that_is_not_understood_gives_1_and_says_where_to_look(string message, params string[] args)
    {
        CommandLineRun run = CommandLineRun.Of(args);
        Assert.Equal(1, run.ExitCode);
        Assert.Contains(message, run.Error);
        Assert.Contains($"Try: rotationstudy {args[0]} --help", run.Error);
        Assert.Empty(run.Output);
    }

    [Fact]
    public void A_number_of_participants_that_cannot_be_gives_1()
    {
        CommandLineRun run = CommandLineRun.Of("cohort", "--to", At("x"), "--participants", "0");
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("Give 1 to 10000000", run.Error);
    }

    [Fact]
    public void A_cohort_is_written_and_json_says_so()
    {
        CommandLineRun run = CommandLineRun.Of("cohort", "--to", At("cohort"), "--participants", "20", "--json");
        Assert.Equal(0, run.ExitCode);
        using JsonDocument said = JsonDocument.Parse(run.Output);
        Assert.Equal(20, said.RootElement.GetProperty("participants").GetInt32());
        Assert.Equal(0, said.RootElement.GetProperty("exit_code").GetInt32());
        Assert.True(File.Exists(At("cohort", "truth.json")));
        Assert.Empty(run.Error);
    }

    [Fact]
    public void Quiet_says_nothing_when_all_is_well()
        => Assert.Equal(new CommandLineRun(0, "", ""), CommandLineRun.Of("protocol", Protocol, "--quiet"));

    [Fact]
    public void A_scenario_with_a_fault_gives_2_with_file_line_and_column()
    {
        File.WriteAllText(At("mine.yaml"), "id: mine\ntitel: no\n");
        CommandLineRun run = CommandLineRun.Of("cohort", "--to", At("x"), "--scenario", At("mine.yaml"));
        Assert.Equal(2, run.ExitCode);
        Assert.StartsWith("mine.yaml:2:1: ", run.Error);
        Assert.False(Directory.Exists(At("x")));
    }

    [Fact]
    public void A_place_that_holds_files_gives_4_and_is_left_alone()
    {
        File.WriteAllText(At("mine.txt"), "mine");
        CommandLineRun run = CommandLineRun.Of("cohort", "--to", Root, "--participants", "5");
        Assert.Equal(4, run.ExitCode);
        Assert.Contains("never overwrites", run.Error);
        Assert.Equal([At("mine.txt")], Directory.GetFileSystemEntries(Root));
    }

    [Fact]
    public void An_interruption_gives_130_and_leaves_nothing()
    {
        CommandLineRun run = CommandLineRun.Of(new CancellationToken(canceled: true), "cohort", "--to", At("x"), "--participants", "500");
        Assert.Equal(130, run.ExitCode);
        Assert.Contains("Interrupted", run.Error);
        Assert.Empty(Directory.GetFileSystemEntries(Root));
    }
}
