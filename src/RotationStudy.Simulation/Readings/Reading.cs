using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>A number as recorded, or why there is none.</summary>
/// <param name="State">Recorded, not recorded, or not done.</param>
/// <param name="Value">The number; 0 when there is none.</param>
public readonly record struct Reading(ReadingState State, double Value)
{
    /// <summary>An empty cell.</summary>
    public static Reading NotRecorded { get; } = new(ReadingState.NotRecorded, 0);

    /// <summary>Written as NA.</summary>
    public static Reading NotDone { get; } = new(ReadingState.NotDone, 0);

    /// <summary>A recorded number.</summary>
    public static Reading Of(double value) => new(ReadingState.Recorded, value);

    /// <summary>A recorded number, unless chance loses it.</summary>
    internal static Reading OrLost(double value, RandomDraws chance, ImperfectionScenario rates)
    {
        double at = chance.Uniform();
        if (at < rates.NotRecordedShare)
            return NotRecorded;
        return at < rates.NotRecordedShare + rates.NotDoneShare ? NotDone : Of(value);
    }
}

/// <summary>What became of a reading.</summary>
public enum ReadingState
{
    /// <summary>A value was written down.</summary>
    Recorded,

    /// <summary>The cell is empty.</summary>
    NotRecorded,

    /// <summary>The cell says NA.</summary>
    NotDone,
}
