using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>The rows of one level (participants, units, visits, ...), in a fixed order that all measures of the level share.</summary>
/// <remarks>Rows are ordered by participant (ordinal), then side, then occasion, whatever the order in the exports.</remarks>
public sealed class LevelIndex
{
    private readonly Dictionary<(int Participant, int Side, int Occasion), int> rowOf;

    internal LevelIndex(RowLevel level, ImmutableArray<RowKey> keys)
    {
        Level = level;
        Keys = keys;
        rowOf = new Dictionary<(int, int, int), int>(keys.Length);
        for (int i = 0; i < keys.Length; i++)
            rowOf.Add((keys[i].Participant, keys[i].Side, keys[i].Occasion), i);
    }

    /// <summary>The level.</summary>
    public RowLevel Level { get; }

    /// <summary>The key of each row.</summary>
    public ImmutableArray<RowKey> Keys { get; }

    /// <summary>Number of rows.</summary>
    public int Rows => Keys.Length;

    /// <summary>The row of a key, or -1. Parts that the level lacks are ignored, so a finer row finds the coarser row above it.</summary>
    public int Find(RowKey key)
    {
        int side = Level.HasSides() ? key.Side : -1;
        int occasion = Level.HasOccasions() ? key.Occasion : -1;
        return rowOf.TryGetValue((key.Participant, side, occasion), out int row) ? row : -1;
    }
}

/// <summary>What names a row: positions in the study's lists of participants, sides and occasions.</summary>
/// <param name="Participant">Position in <see cref="StudyKeys.Participants"/>.</param>
/// <param name="Side">Position in <see cref="StudyKeys.Sides"/>; -1 where the level has no sides.</param>
/// <param name="Occasion">Position in <see cref="StudyKeys.Occasions"/> (visit or running number); -1 where the level has none.</param>
public readonly record struct RowKey(int Participant, int Side, int Occasion);

/// <summary>The study's lists of keys, each in a fixed order.</summary>
/// <param name="Participants">Identifiers, in ordinal order.</param>
/// <param name="Sides">Side codes, in declared order; empty where participants have one unit.</param>
/// <param name="Occasions">Visits (in declared or numeric order) or running numbers; empty where there are none.</param>
public sealed record StudyKeys(ImmutableArray<string> Participants, ImmutableArray<string> Sides, ImmutableArray<string> Occasions);
