using System.Collections.Immutable;
using RotationStudy.Cli.Running;
using RotationStudy.Simulation.Faults;

namespace RotationStudy.Cli.Commands;

/// <summary>A damaged copy of a made-up cohort beside it, with the list of what was done.</summary>
internal static class DamagedCopy
{
    /// <summary>Writes the cohort and, where faults are asked for, the copy.</summary>
    internal static Outcome Beside(string folder, int seed, int each, Func<Outcome> write)
    {
        if (each is < 0 or > 1000)
            return Outcome.Failed(ExitCode.Usage, $"--damage {each} cannot be. Give 1 to 1000.");
        string damaged = Path.TrimEndingDirectorySeparator(folder) + "-damaged";
        if (each > 0 && Path.Exists(damaged))
            return Outcome.Failed(ExitCode.Usage, $"'{damaged}' is there already, and a damaged copy never overwrites anything.");
        Outcome outcome = write();
        if (each == 0 || outcome.Code != ExitCode.Done)
            return outcome;
        string unfinished = damaged + ".unfinished";
        ImmutableArray<PlantedFault> faults = ExportDamage.Plant(folder, unfinished, seed, each);
        string list = damaged + ".csv";
        ExportDamage.WriteList(faults, list);
        Directory.Move(unfinished, damaged);
        outcome.Facts["planted_faults"] = faults.Length;
        return outcome with { Said = [.. outcome.Said, $"{faults.Length} faults are planted in {damaged} and listed in {list}."] };
    }
}
