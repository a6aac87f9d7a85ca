using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Sum, difference, half difference or product of two measures, row by row; missing where either is.</summary>
internal static class PairArithmetic
{
    internal static MeasureColumn Derive(PairMeasure measure, Derivation derivation)
    {
        MeasureColumn first = derivation.Done[measure.First];
        MeasureColumn second = derivation.Done[measure.Second];
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
                result.Set(row, Combine(measure.Operation, first.Values[a], second.Values[b]));
        }
        return result.Build(measure);
    }

    private static double Combine(PairOperation operation, double a, double b) => operation switch
    {
        PairOperation.Sum => a + b,
        PairOperation.Difference => a - b,
        PairOperation.HalfDifference => (a - b) / 2,
        PairOperation.Product => a * b,
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };
}
