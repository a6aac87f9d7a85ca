using System.Collections.Immutable;
using RotationStudy.Simulation.Faults;
using RotationStudy.Study.Checks;

namespace RotationStudy.FaultStudies;

/// <summary>Counts which planted faults the findings of a damaged export name, and which findings nothing explains.</summary>
/// <remarks>
/// A fault is found when one of the rules declared for its way names its line, one of its participants, or, for whole files and
/// raters, its file. A false alarm is a finding that the clean export did not have and that concerns nobody who was damaged.
/// </remarks>
internal static class FaultTally
{
    /// <summary>Counts.</summary>
    /// <param name="faults">What was planted.</param>
    /// <param name="damaged">Findings of the damaged export.</param>
    /// <param name="clean">Findings of the same export before.</param>
    internal static FaultCounts Count(IReadOnlyCollection<PlantedFault> faults, IReadOnlyCollection<Finding> damaged, IReadOnlyCollection<Finding> clean)
    {
        HashSet<(string, string, string?, string?)> before = [.. clean.Select(Identity)];
        Finding[] fresh = [.. damaged.Where(f => !before.Contains(Identity(f)))];
        Dictionary<string, Finding[]> byRule = fresh.GroupBy(f => f.Rule).ToDictionary(g => g.Key, g => g.ToArray(), StringComparer.Ordinal);
        ImmutableArray<WayCount> ways =
        [
            .. faults.GroupBy(f => f.Way).Select(g => new WayCount(g.Key, g.Count(), g.Count(f => Finders(f, byRule).Any()),
                [.. g.SelectMany(f => Finders(f, byRule)).Distinct().Order(StringComparer.Ordinal)])),
        ];
        // What a whole file lacks is missed everywhere: nothing beside it is a false alarm.
        if (faults.Any(f => ExportDamage.IsPlantedAlone(f.Way)))
            return new FaultCounts(ways, []);
        HashSet<string> touched = [.. faults.SelectMany(f => f.Participants), .. faults.Select(f => f.After)];
        HashSet<(string, int)> lines = [.. faults.SelectMany(f => f.Lines.Select(l => (f.File, l)))];
        HashSet<string> files = [.. faults.Where(f => f.Participants.IsEmpty).Select(f => f.File)];
        return new FaultCounts(
            ways,
            [.. fresh.Where(f => !(f.Participant is { } who && touched.Contains(who)) && !lines.Contains((f.File, f.Line))
                && !(f.Participant is null && files.Contains(f.File)))]);
    }

    private static IEnumerable<string> Finders(PlantedFault fault, Dictionary<string, Finding[]> byRule)
        => ExportDamage.FoundBy(fault.Way).Where(rule => byRule.TryGetValue(rule, out Finding[]? found) && found.Any(f => Names(f, fault)));

    private static bool Names(Finding finding, PlantedFault fault)
        => (finding.File == fault.File && fault.Lines.Contains(finding.Line))
            || (finding.Participant is { } who && fault.Participants.Contains(who))
            || (fault.Participants.IsEmpty && finding.File == fault.File);

    private static (string, string, string?, string?) Identity(Finding f) => (f.Rule, f.File, f.Key, f.Column);
}

/// <summary>What became of planted faults.</summary>
/// <param name="Ways">One count per way.</param>
/// <param name="FalseAlarms">Findings that nothing planted explains.</param>
internal sealed record FaultCounts(ImmutableArray<WayCount> Ways, ImmutableArray<Finding> FalseAlarms);

/// <summary>Faults of one way.</summary>
/// <param name="Way">Name of the way.</param>
/// <param name="Planted">Number planted.</param>
/// <param name="Found">Number found.</param>
/// <param name="By">Rules and checks that found them.</param>
internal sealed record WayCount(string Way, int Planted, int Found, ImmutableArray<string> By);
