namespace RotationStudy.Simulation.Faults;

/// <summary>A way to damage an export.</summary>
/// <param name="Name">Name of the way.</param>
/// <param name="Does">What happens, in words.</param>
/// <param name="FoundBy">Rules and checks of which one should find it; empty where none can.</param>
/// <param name="Hidden">Why nothing in the export can show it; null where something can.</param>
/// <param name="Plant">Does it once at a random place; null where no place is left.</param>
internal sealed record FaultWay(string Name, string Does, string[] FoundBy, string? Hidden, Func<Damage, Planted?> Plant)
{
    /// <summary>Whether it damages a file as a whole or stops the export, so that other faults cannot be seen beside it.</summary>
    internal bool Alone { get; init; }
}

/// <summary>What was done at one place.</summary>
/// <param name="File">File.</param>
/// <param name="Rows">Rows of that file that show it; empty for a row taken out and for whole files.</param>
/// <param name="Participants">Whose data it concerns.</param>
/// <param name="Column">Column; null for whole rows and files.</param>
/// <param name="Before">What stood there.</param>
/// <param name="After">What stands there.</param>
internal sealed record Planted(string File, ExportRow[] Rows, string[] Participants, string? Column, string Before, string After);
