using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Faults;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.FaultStudies;

/// <summary>Plants faults of every way in clean cohorts of several seeds, and counts what the checks find.</summary>
internal static class PlantedFaultStudy
{
    private const int Participants = 1500;
    private const int Each = 8;

    private static readonly int[] Seeds = [101, 102, 103];

    private static readonly int[] CleanSeeds = [111, 112, 113, 114, 115];

    internal static int Run(string repository)
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(repository, "protocols", "patellar-instability"));
        File.WriteAllText(Path.Combine(repository, "docs", "checks.md"), CheckListing.Page(protocol));
        string work = Directory.CreateTempSubdirectory("planted-faults-").FullName;
        try
        {
            List<FaultCounts> counts = [];
            StringBuilder clean = new();
            foreach (int seed in Seeds)
                counts.AddRange(OneSeed(protocol, work, seed, clean));
            foreach (int seed in CleanSeeds)
                Describe(clean, $"{seed}, rounding", MakeUp(protocol, Path.Combine(work, $"clean-{seed}"), seed, rounding: true));
            File.WriteAllText(Path.Combine(repository, "docs", "planted-faults.md"), Page(counts, clean.ToString()));
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
        return 0;
    }

    private static List<FaultCounts> OneSeed(StudyProtocol protocol, string work, int seed, StringBuilder cleanTable)
    {
        string folder = Path.Combine(work, seed.ToString(CultureInfo.InvariantCulture));
        ImmutableArray<Finding> before = MakeUp(protocol, folder, seed, rounding: false);
        Describe(cleanTable, seed.ToString(CultureInfo.InvariantCulture), before);
        List<FaultCounts> counts = [Damaged(protocol, folder, folder + "-damaged", seed, null, before)];
        foreach (string way in ExportDamage.Ways.Where(ExportDamage.IsPlantedAlone))
            counts.Add(Damaged(protocol, folder, $"{folder}-{way}", seed, [way], before));
        return counts;
    }

    private static ImmutableArray<Finding> MakeUp(StudyProtocol protocol, string folder, int seed, bool rounding)
    {
        CohortFolder.Write(new SimulatedCohort(CleanScenario.Of(DemoScenario.Read(), Participants, rounding), seed), folder);
        ImmutableArray<Finding> findings = Check(protocol, folder);
        foreach (Finding f in findings.Where(f => f.Rule != "hip.first" && f.Severity != Severity.Note))
            Console.WriteLine($"seed {seed}: clean, {f.Rule} {f.File}:{f.Line} {f.Message}");
        return findings;
    }

    private static void Describe(StringBuilder table, string cohort, ImmutableArray<Finding> findings)
    {
        foreach (IGrouping<string, Finding> rule in findings.GroupBy(f => f.Rule).OrderBy(g => g.Key, StringComparer.Ordinal))
            table.Append(CultureInfo.InvariantCulture, $"| {cohort} | {rule.Key} | {rule.Count()} |\n");
    }

    private static FaultCounts Damaged(
        StudyProtocol protocol, string folder, string damaged, int seed, string[]? ways, IReadOnlyCollection<Finding> before)
    {
        IReadOnlyCollection<PlantedFault> faults = ExportDamage.Plant(folder, damaged, seed, Each, ways);
        FaultCounts counts = FaultTally.Count(faults, Check(protocol, damaged), before);
        Directory.Delete(damaged, recursive: true);
        foreach (WayCount way in counts.Ways.Where(w => w.Found < w.Planted && ExportDamage.WhyHidden(w.Way) is null))
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {seed}: {way.Way} {way.Found} of {way.Planted}"));
        foreach (Finding alarm in counts.FalseAlarms)
            Console.WriteLine($"seed {seed}: false alarm {alarm.Rule} {alarm.File}:{alarm.Line} {alarm.Message}");
        return counts;
    }

    private static ImmutableArray<Finding> Check(StudyProtocol protocol, string folder)
        => RecordChecker.Check(protocol, ExportReader.Read(folder, protocol)).Findings;

    private static string Page(List<FaultCounts> counts, string clean)
    {
        WayCount[] ways = [.. counts.SelectMany(c => c.Ways)];
        StringBuilder page = new();
        page.Append(CultureInfo.InvariantCulture, $"""
            # Planted faults

            Clean made-up cohorts of {Participants} participants (the demo scenario without its slips of the pen and its rounding to fives), seeds {string.Join(", ", Seeds)},
            are damaged in every declared way, {Each} times each at random places of participants whom no other fault touches. A fault is
            found when a rule declared for its way names its row or its participant. Written by
            `dotnet run -c Release --project tests/FaultStudies`; `rotationstudy cohort --to <folder> --damage <n>` plants them in an export.

            {ways.Where(w => ExportDamage.WhyHidden(w.Way) is null).Sum(w => w.Found)} of {ways.Where(w => ExportDamage.WhyHidden(w.Way) is null).Sum(w => w.Planted)} faults that an export can show were found. Findings beside them that nothing planted explains: {counts.Sum(c => c.FalseAlarms.Length)}.

            | way | what happens | planted | found | by |
            | --- | --- | --- | --- | --- |

            """);
        foreach (string way in ExportDamage.Ways.Where(w => ExportDamage.WhyHidden(w) is null))
        {
            WayCount[] of = [.. ways.Where(w => w.Way == way)];
            page.Append(CultureInfo.InvariantCulture, $"| {way} | {ExportDamage.Describe(way)} | {of.Sum(w => w.Planted)} | {of.Sum(w => w.Found)} | {string.Join(", ", of.SelectMany(w => w.By).Distinct().Order(StringComparer.Ordinal))} |\n");
        }
        page.Append("\n## What no check can find\n\n| way | what happens | planted | why nothing shows it |\n| --- | --- | --- | --- |\n");
        foreach (string way in ExportDamage.Ways.Where(w => ExportDamage.WhyHidden(w) is not null))
            page.Append(CultureInfo.InvariantCulture, $"| {way} | {ExportDamage.Describe(way)} | {ways.Where(w => w.Way == way).Sum(w => w.Planted)} | {ExportDamage.WhyHidden(way)} |\n");
        page.Append("\n## Findings on the clean cohorts\n\n");
        page.Append("Hips for the clinical team (hip.first) are part of the scenario, and so is the rounding of readings to fives in the cohorts marked so (heaped, a note). range.plausible asks about values that are rare by definition. Anything else here is a false alarm.\n\n");
        page.Append("| cohort | rule | findings |\n| --- | --- | --- |\n").Append(clean);
        return page.ToString();
    }
}
