using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>How two measures of one side lie to their usual ranges, together: neither outside, one, both to the same or to opposite directions.</summary>
internal static class PairPattern
{
    internal static MeasureColumn Derive(PairPatternMeasure measure, Derivation derivation)
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
                result.Set(row, Pattern(Direction(measure.FirstUsual, first.Values[a]), Direction(measure.SecondUsual, second.Values[b])));
        }
        PatternLabels labels = measure.Labels;
        ImmutableArray<CodeDefinition> codes =
            [.. new[] { labels.BothUsual, labels.OneUnusual, labels.SameDirection, labels.OppositeDirections }.Select(l => new CodeDefinition(l, l))];
        return result.Build(measure, codes);
    }

    private static int Direction(ValueRange usual, double value) => value < usual.Lowest ? -1 : value > usual.Highest ? 1 : 0;

    private static int Pattern(int first, int second) => (first, second) switch
    {
        (0, 0) => 0,
        (0, _) or (_, 0) => 1,
        _ => first == second ? 2 : 3,
    };
}
