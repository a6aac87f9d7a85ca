using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>This side minus the other side of the same participant (and visit); missing where either is.</summary>
internal static class SideDifference
{
    internal static MeasureColumn Derive(SideDifferenceMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        LevelIndex level = of.Index;
        MeasureBuilder result = new(level, "the other side has no row");
        for (int row = 0; row < level.Rows; row++)
        {
            RowKey key = level.Keys[row];
            int other = level.Find(key with { Side = 1 - key.Side });
            if (other < 0)
                continue;
            if (of.Reason(row) is { } reason)
                result.SetMissing(row, reason);
            else if (of.Reason(other) is { } otherReason)
                result.SetMissing(row, $"other side: {otherReason}");
            else
                result.Set(row, of.Values[row] - of.Values[other]);
        }
        return result.Build(measure);
    }
}
