using System.Collections.Immutable;
using RotationStudy.FaultStudies;
using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Faults;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;

namespace RotationStudy.Tests.Simulation.Faults;

/// <summary>Faults of every declared way are planted in a made-up cohort and found.</summary>
public sealed class ExportDamageTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-damage-").FullName;

    [Fact]
    public void Every_fault_that_an_export_can_show_is_found_and_nothing_else_is_asked_about()
    {
        string clean = MakeUp(700);
        ImmutableArray<Finding> before = Check(clean);
        string damaged = Path.Combine(folder, "damaged");
        ImmutableArray<PlantedFault> faults = ExportDamage.Plant(clean, damaged, 5, 1);
        FaultCounts counts = FaultTally.Count(faults, Check(damaged), before);
        Assert.Empty(counts.FalseAlarms);
        Assert.True(counts.Ways.Length >= 70, $"{counts.Ways.Length}");
        Assert.All(counts.Ways, w => Assert.True(w.Found == (ExportDamage.WhyHidden(w.Way) is null ? w.Planted : 0), $"{w.Way}: {w.Found} of {w.Planted}"));
    }

    [Fact]
    public void A_whole_file_that_is_wrong_is_found()
    {
        string clean = MakeUp(60);
        ImmutableArray<Finding> before = Check(clean);
        foreach (string way in ExportDamage.Ways.Where(ExportDamage.IsPlantedAlone))
        {
            string damaged = Path.Combine(folder, way);
            FaultCounts counts = FaultTally.Count(ExportDamage.Plant(clean, damaged, 5, 1, [way]), Check(damaged), before);
            Assert.Equal((way, 1), (counts.Ways[0].Way, counts.Ways[0].Found));
        }
    }

    [Fact]
    public void The_same_seed_damages_the_same_places_and_the_list_says_where()
    {
        string clean = MakeUp(120);
        ImmutableArray<PlantedFault> first = ExportDamage.Plant(clean, Path.Combine(folder, "one"), 9, 1);
        ImmutableArray<PlantedFault> second = ExportDamage.Plant(clean, Path.Combine(folder, "two"), 9, 1);
        string[] lists = [Path.Combine(folder, "one.list"), Path.Combine(folder, "two.list")];
        ExportDamage.WriteList(first, lists[0]);
        ExportDamage.WriteList(second, lists[1]);
        Assert.Equal(File.ReadAllText(lists[0]), File.ReadAllText(lists[1]));
        Assert.Equal(1 + first.Length, File.ReadAllLines(lists[0]).Length);
        foreach (string file in Directory.EnumerateFiles(Path.Combine(folder, "one")))
            Assert.Equal(File.ReadAllText(file), File.ReadAllText(Path.Combine(folder, "two", Path.GetFileName(file))));
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private static ImmutableArray<Finding> Check(string export)
        => RecordChecker.Check(TestExport.WithChecks, ExportReader.Read(export, TestExport.WithChecks)).Findings;

    private string MakeUp(int participants)
    {
        Scenario demo = DemoScenario.Read();
        Scenario scenario = demo with
        {
            Cohort = demo.Cohort with { Participants = participants },
            Exam = demo.Exam with { HeapingShare = 0 },
            Imperfections = demo.Imperfections with { LostDecimalPointShare = 0, LateVisitShare = 0 },
        };
        string clean = Path.Combine(folder, "clean");
        CohortFolder.Write(new SimulatedCohort(scenario, 7), clean);
        return clean;
    }
}
