using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Walks over the rows of two measures side by side; a row is missing where either is, with the reason of the first that is.</summary>
internal static class PairRows
{
    internal static MeasureBuilder Combine(MeasureDefinition measure, string firstId, string secondId, Derivation derivation, Func<double, double, double> value)
    {
        MeasureColumn first = derivation.Done[firstId];
        MeasureColumn second = derivation.Done[secondId];
        LevelIndex level = derivation.LevelOf(measure);
        MeasureBuilder result = new(level, "no row");
        for (int row = 0; row < level.Rows; row++)
        {
            int a = first.Index.Find(level.Keys[row]);
            int b = second.Index.Find(level.Keys[row]);
            if (a < 0 || b < 0)
                continue;
            if ((first.Reason(a) ?? second.Reason(b)) is { } reason)
                result.SetMissing(row, reason);
            else
                result.Set(row, value(first.Values[a], second.Values[b]));
        }
        return result;
    }
}
