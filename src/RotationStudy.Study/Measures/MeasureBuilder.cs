using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Fills one measure row by row; rows not touched are missing.</summary>
internal sealed class MeasureBuilder(LevelIndex index, string unsetReason)
{
    private readonly double[] values = new double[index.Rows];
    private readonly byte[] missing = NewlyMissing(index.Rows);
    private readonly List<string> reasons = [unsetReason];

    internal LevelIndex Index => index;

    internal void Set(int row, double value)
    {
        values[row] = value;
        missing[row] = 0;
    }

    internal void SetMissing(int row, string reason)
    {
        int position = reasons.IndexOf(reason);
        if (position < 0)
        {
            // A byte holds the reason; a column with more kinds of reason than that names the rest together.
            position = reasons.Count < byte.MaxValue - 1 ? reasons.Count : reasons.Count - 1;
            if (position == reasons.Count)
                reasons.Add(reason);
        }
        values[row] = 0;
        missing[row] = (byte)(position + 1);
    }

    internal MeasureColumn Build(MeasureDefinition definition, ImmutableArray<CodeDefinition> codes = default, string? note = null)
        => new(
            definition,
            index,
            ImmutableCollectionsMarshalled(values),
            ImmutableCollectionsMarshalled(missing),
            [.. reasons],
            codes.IsDefault ? [] : codes,
            note);

    private static ImmutableArray<T> ImmutableCollectionsMarshalled<T>(T[] array)
        => System.Runtime.InteropServices.ImmutableCollectionsMarshal.AsImmutableArray(array);

    private static byte[] NewlyMissing(int rows)
    {
        byte[] bytes = new byte[rows];
        Array.Fill(bytes, (byte)1);
        return bytes;
    }
}
