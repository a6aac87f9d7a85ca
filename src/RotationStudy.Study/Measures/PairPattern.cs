using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>How two measures of one side lie to their usual ranges, together: neither outside, one, both to the same or to opposite directions.</summary>
internal static class PairPattern
{
    internal static MeasureColumn Derive(PairPatternMeasure measure, Derivation derivation)
    {
        MeasureBuilder result = PairRows.Combine(
            measure, measure.First, measure.Second, derivation, (a, b) => Pattern(Direction(measure.FirstUsual, a), Direction(measure.SecondUsual, b)));
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
