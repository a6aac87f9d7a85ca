using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Faults;

/// <summary>Damages a clean made-up export in declared ways at random places, and says what it did.</summary>
public static class ExportDamage
{
    /// <summary>Names of the ways, in the order in which they are planted; those that are planted alone are among them.</summary>
    public static ImmutableArray<string> Ways { get; } = [.. All.Select(w => w.Name)];

    internal static IEnumerable<FaultWay> All => [.. CourseWays.All, .. RowWays.All, .. CellWays.All, .. HiddenWays.All, .. FileWays.All];

    /// <summary>What a way does, in words.</summary>
    /// <param name="way">Name of the way.</param>
    public static string Describe(string way) => Way(way).Does;

    /// <summary>Rules and checks of which one should find a fault of the way; empty where nothing in an export can show it.</summary>
    /// <param name="way">Name of the way.</param>
    public static ImmutableArray<string> FoundBy(string way) => [.. Way(way).FoundBy];

    /// <summary>Why nothing in an export can show a fault of the way; null where something can.</summary>
    /// <param name="way">Name of the way.</param>
    public static string? WhyHidden(string way) => Way(way).Hidden;

    /// <summary>Whether a fault of the way damages a whole file or stops the export, and is therefore planted alone.</summary>
    /// <param name="way">Name of the way.</param>
    public static bool IsPlantedAlone(string way) => Way(way).Alone;

    /// <summary>Writes a damaged copy of an export.</summary>
    /// <param name="clean">Folder of the clean export.</param>
    /// <param name="damaged">Folder for the copy.</param>
    /// <param name="seed">Seed: the same seed damages the same places.</param>
    /// <param name="each">How often each way is planted; fewer where the export has no place left.</param>
    /// <param name="ways">Ways to plant; null for all that can stand together.</param>
    /// <returns>What was done, one entry per fault.</returns>
    public static ImmutableArray<PlantedFault> Plant(string clean, string damaged, int seed, int each, IReadOnlyCollection<string>? ways = null)
    {
        ExportText export = ExportText.Read(clean);
        HashSet<string> touched = new(StringComparer.Ordinal);
        List<(string Way, Planted Planted)> done = [];
        foreach (FaultWay way in All.Where(w => ways?.Contains(w.Name) ?? !w.Alone))
        {
            // One stream per way: a new way moves no other one's draws.
            Damage damage = new(export, NamedStreams.Shared(seed).Open($"damage/{way.Name}"), touched);
            for (int i = 0; i < (way.Alone || way.Name == "rater_rounds" ? 1 : each); i++)
            {
                if (way.Plant(damage) is { } planted)
                    done.Add((way.Name, planted));
            }
        }
        export.Write(damaged);
        return [.. done.Select(d => Public(d.Way, d.Planted, export))];
    }

    /// <summary>Writes the list of what was done.</summary>
    /// <param name="faults">The faults.</param>
    /// <param name="path">CSV file to write.</param>
    public static void WriteList(IEnumerable<PlantedFault> faults, string path)
    {
        StringBuilder text = new("way,file,lines,column,participants,before,after\n");
        foreach (PlantedFault f in faults)
        {
            string[] cells =
            [
                f.Way, f.File, string.Join(' ', f.Lines.Select(l => l.ToString(CultureInfo.InvariantCulture))), f.Column ?? string.Empty,
                string.Join(' ', f.Participants), f.Before, f.After,
            ];
            text.AppendJoin(',', cells.Select(c => c.AsSpan().IndexOfAny(",\"") >= 0 ? $"\"{c.Replace("\"", "\"\"")}\"" : c)).Append('\n');
        }
        File.WriteAllText(path, text.ToString(), new UTF8Encoding(false));
    }

    private static FaultWay Way(string name)
        => All.FirstOrDefault(w => w.Name == name) ?? throw new KeyNotFoundException($"No way of damage is called '{name}'.");

    private static PlantedFault Public(string way, Planted planted, ExportText export) => new(
        way, planted.File, [.. planted.Rows.Select(r => export[planted.File].Rows.IndexOf(r)).Where(i => i >= 0).Select(i => i + 2).Order()],
        planted.Column, [.. planted.Participants], planted.Before, planted.After);
}

/// <summary>A fault that was planted.</summary>
/// <param name="Way">How.</param>
/// <param name="File">File.</param>
/// <param name="Lines">Lines of the damaged file that show it; empty where rows were taken out or the whole file is meant.</param>
/// <param name="Column">Column; null for whole rows and files.</param>
/// <param name="Participants">Whose data it concerns; empty for whole files.</param>
/// <param name="Before">What stood there.</param>
/// <param name="After">What stands there now.</param>
public sealed record PlantedFault(
    string Way, string File, ImmutableArray<int> Lines, string? Column, ImmutableArray<string> Participants, string Before, string After);
