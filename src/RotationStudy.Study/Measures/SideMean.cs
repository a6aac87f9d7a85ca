using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>The mean of both sides of a participant (and visit); missing where either is.</summary>
internal static class SideMean
{
    internal static MeasureColumn Derive(SideMeanMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        LevelIndex level = derivation.LevelOf(measure);
        MeasureBuilder result = new(level, "no row of both sides");
        for (int row = 0; row < level.Rows; row++)
        {
            int first = of.Index.Find(level.Keys[row] with { Side = 0 });
            int second = of.Index.Find(level.Keys[row] with { Side = 1 });
            if (first < 0 || second < 0)
                continue;
            if ((of.Reason(first) ?? of.Reason(second)) is { } reason)
                result.SetMissing(row, $"one side: {reason}");
            else
                result.Set(row, (of.Values[first] + of.Values[second]) / 2);
        }
        return result.Build(measure);
    }
}
