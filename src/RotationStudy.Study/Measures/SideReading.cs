using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Rules;

namespace RotationStudy.Study.Measures;

/// <summary>A test read beside the same test of the other side: in a lax person a test positive on both sides may be that person's usual.</summary>
internal static class SideReading
{
    private const int Negative = 0;
    private const int Both = 1;
    private const int BothThisMore = 2;
    private const int ThisOnly = 3;

    internal static MeasureColumn Derive(SideReadingMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Positive.Column];
        LevelIndex level = of.Index;
        MeasureBuilder result = new(level, "no row");
        int both = 0;
        for (int row = 0; row < level.Rows; row++)
        {
            int other = level.Find(level.Keys[row] with { Side = 1 - level.Keys[row].Side });
            if (of.Reason(row) is { } reason)
                result.SetMissing(row, reason);
            else if (!Positive(measure.Positive, of, row))
                result.Set(row, Negative);
            else if (other < 0 || !of.HasValue(other))
                result.SetMissing(row, "positive, but the other side was not examined");
            else if (!Positive(measure.Positive, of, other))
                result.Set(row, ThisOnly);
            else
            {
                both++;
                result.Set(row, measure.MoreBy is { } more && of.Values[row] - of.Values[other] >= more ? BothThisMore : Both);
            }
        }
        ImmutableArray<CodeDefinition> codes = [.. ReadingMeasureRules.Readings.Select(c => new CodeDefinition(c, c))];
        return result.Build(measure, codes, both == 0 ? null : $"{both} sides are positive on both sides of the person and marked so.");
    }

    private static bool Positive(ScoreComponent positive, MeasureColumn column, int row) => positive.Test switch
    {
        ComponentTest.AtLeast => column.Values[row] >= positive.Threshold,
        ComponentTest.MoreThan => column.Values[row] > positive.Threshold,
        _ => column.Codes[(int)column.Values[row]].Code == positive.Code,
    };
}
