using System.Text.Json;

namespace RotationStudy.Tests.Cli;

public sealed class ExplainTests
{
    private static readonly string Protocol = Path.Combine(Repository.Root, "protocols", "patellar-instability");

    [Fact]
    public void A_measure_is_explained_in_lines_that_fit_a_terminal()
    {
        CommandLineRun run = CommandLineRun.Of("explain", Protocol, "hip_internal_rotation");
        Assert.Equal(0, run.ExitCode);
        foreach (string word in (string[])["Hip internal rotation (hip_internal_rotation)", "  Sign", "  Norm by age", "contradicts itself", "Used by"])
            Assert.Contains(word, run.Output);
        Assert.All(run.Output.Split('\n'), line => Assert.True(line.Length <= 100, line));
    }

    [Fact]
    public void Without_a_measure_all_are_listed()
    {
        CommandLineRun run = CommandLineRun.Of("explain", Protocol);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("tubercle_distance_ct ", run.Output);
        Assert.Contains("Thigh-foot angle (degrees)", run.Output);
    }

    [Fact]
    public void A_slip_gives_1_and_the_nearest_name()
    {
        CommandLineRun run = CommandLineRun.Of("explain", Protocol, "laxity_nin");
        Assert.Equal(1, run.ExitCode);
        Assert.Equal("No measure is called 'laxity_nin'. Did you mean 'laxity_nine'?", run.Error.TrimEnd());
        Assert.Empty(run.Output);
    }

    [Fact]
    public void Json_holds_the_same_points()
    {
        CommandLineRun run = CommandLineRun.Of("explain", Protocol, "anteversion", "--json");
        using JsonDocument said = JsonDocument.Parse(run.Output);
        Assert.Equal("anteversion", said.RootElement.GetProperty("measure").GetString());
        Assert.Contains(said.RootElement.GetProperty("points").EnumerateArray(), p => p.GetProperty("heading").GetString() == "Methods");
    }
}
