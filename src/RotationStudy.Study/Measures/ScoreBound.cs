using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>The lowest or highest score possible: missing components count as not met or met, and another count of components widens it.</summary>
internal static class ScoreBound
{
    internal static MeasureColumn Derive(ScoreBoundMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        (int Met, int Unknown)?[] tallies = derivation.Protocol.Measure(measure.Of) is CriteriaScoreMeasure score
            ? CriteriaScore.Tallies(score, derivation)
            : [.. Enumerable.Range(0, of.Index.Rows).Select(r => of.HasValue(r) ? ((int)of.Values[r], 0) : ((int, int)?)null)];
        MeasureBuilder result = new(of.Index, "no row");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (tallies[row] is { } tally)
                result.Set(row, Bound(measure, tally.Met, tally.Unknown));
            else
                result.SetMissing(row, of.Reason(row)!);
        }
        return result.Build(measure);
    }

    private static int Bound(ScoreBoundMeasure measure, int met, int unknown) => measure.End == BoundEnd.Lowest
        ? Math.Max(0, met - measure.MostLost)
        : Math.Min(measure.HighestPossible, met + unknown + measure.MostGained);
}
