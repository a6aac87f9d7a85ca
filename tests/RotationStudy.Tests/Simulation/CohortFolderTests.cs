using System.Text.Json;
using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Tests.Simulation;

public sealed class CohortFolderTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void The_committed_demo_is_what_the_generator_writes()
    {
        CohortFolder.Write(new SimulatedCohort(DemoScenario.Read(), DemoScenario.Seed), At("demo"));
        string committed = Path.Combine(Repository.Root, "synthetic-data", "demo");
        Assert.Equal(Files(committed).Keys, Files(At("demo")).Keys);
        foreach ((string name, byte[] bytes) in Files(committed))
            Assert.True(bytes.AsSpan().SequenceEqual(Files(At("demo"))[name]), $"{name} differs: write it anew with the command in synthetic-data/README.md.");
        Assert.InRange(Files(committed).Sum(f => f.Value.Length), 1, 1_500_000);
    }

    [Fact]
    public void The_same_seed_gives_the_same_bytes_and_another_seed_gives_others()
    {
        Write("one", 700, 1);
        Write("two", 700, 1);
        Write("three", 700, 2);
        Assert.Equal(Files(At("one")), Files(At("two")));
        Assert.NotEqual(Files(At("one"))["events.csv"], Files(At("three"))["events.csv"]);
    }

    [Fact]
    public void The_demo_has_the_small_imperfections_of_real_exports()
    {
        string demo = Path.Combine(Repository.Root, "synthetic-data", "demo");
        string exams = File.ReadAllText(Path.Combine(demo, "knee_exams.csv"));
        Assert.Contains(",painful,", exams);
        Assert.Contains(",NA,", exams);
        Assert.Contains(",,", exams);
        Assert.Contains(File.ReadLines(Path.Combine(demo, "participants.csv")).Skip(1), l => double.TryParse(l.Split(',')[6], out double mass) && mass > 250);
        Assert.Contains(File.ReadLines(Path.Combine(demo, "visits.csv")), l => l.Split(',') is [_, "month_6", string day] && int.Parse(day, null) > 244);
        Assert.Contains("jarrett", File.ReadAllText(Path.Combine(demo, "imaging.csv")));
    }

    [Fact]
    public void The_truth_stands_beside_the_export_with_seed_effects_and_scenario()
    {
        Write("one", 50, 4);
        using JsonDocument truth = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(At("one"), CohortFolder.TruthFile)));
        Assert.Equal(4, truth.RootElement.GetProperty("seed").GetInt32());
        Assert.Equal(Math.Exp(0.3), truth.RootElement.GetProperty("effects").GetProperty("rate_ratio_per10_degrees_of_anteversion").GetDouble(), 1e-5);
        Assert.Equal(50, truth.RootElement.GetProperty("held").GetProperty("participants").GetInt32());
        Assert.Equal(0.5, truth.RootElement.GetProperty("scenario").GetProperty("events").GetProperty("frailty_variance").GetDouble());
    }

    [Fact]
    public void A_folder_with_files_is_never_written_into()
    {
        Directory.CreateDirectory(At("taken"));
        File.WriteAllText(Path.Combine(At("taken"), "mine.txt"), "mine");
        Assert.Contains("never overwrites", Assert.Throws<IOException>(() => Write("taken", 10, 1)).Message);
        Assert.Equal(["mine.txt"], Files(At("taken")).Keys);
    }

    [Fact]
    public void An_interrupted_writing_leaves_nothing_behind()
    {
        using CancellationTokenSource stop = new();
        Scenario scenario = DemoScenario.Read();
        SimulatedCohort cohort = new(scenario with { Cohort = scenario.Cohort with { Participants = 5000 } }, 1);
        Assert.ThrowsAny<OperationCanceledException>(() => CohortFolder.Write(cohort, At("stopped"), new Stop(stop), stop.Token));
        Assert.Empty(Directory.EnumerateFileSystemEntries(folder));
    }

    private void Write(string name, int participants, int seed)
    {
        Scenario scenario = DemoScenario.Read();
        CohortFolder.Write(new SimulatedCohort(scenario with { Cohort = scenario.Cohort with { Participants = participants } }, seed), At(name));
    }

    private string At(string name) => Path.Combine(folder, name);

    private static SortedDictionary<string, byte[]> Files(string folder)
        => new(Directory.EnumerateFiles(folder).ToDictionary(f => Path.GetFileName(f), File.ReadAllBytes), StringComparer.Ordinal);

    private sealed class Stop(CancellationTokenSource source) : IProgress<int>
    {
        public void Report(int value) => source.Cancel();
    }
}
