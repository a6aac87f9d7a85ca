using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Counts the cohort under every cut-off of the protocol, and sets each two of them side by side.</summary>
internal static class ScoreReadingsBuilder
{
    /// <summary>The readings, or null where the protocol declares no cut-off.</summary>
    internal static ScoreReadings? Build(StudyProtocol protocol, DerivedMeasures measures)
    {
        CutOffMeasure[] cutOffs = [.. protocol.Measures.OfType<CutOffMeasure>()];
        if (cutOffs.Length == 0)
            return null;
        ImmutableArray<ScoreReadingPair>.Builder pairs = ImmutableArray.CreateBuilder<ScoreReadingPair>();
        for (int first = 0; first < cutOffs.Length; first++)
        {
            for (int second = first + 1; second < cutOffs.Length; second++)
            {
                MeasureColumn a = measures[cutOffs[first].Id];
                MeasureColumn b = measures[cutOffs[second].Id];
                if (a.Index.Level == b.Index.Level)
                    pairs.Add(Pair(a, b));
            }
        }
        return new ScoreReadings([.. cutOffs.Select(c => Line(c, measures[c.Id], protocol))], pairs.ToImmutable());
    }

    private static ScoreReadingLine Line(CutOffMeasure measure, MeasureColumn column, StudyProtocol protocol)
    {
        CriteriaScoreMeasure score = (CriteriaScoreMeasure)protocol.Measure(measure.Of);
        int[] rows = [.. Enumerable.Range(0, column.Index.Rows)];
        int open = rows.Count(r => column.Reason(r) == CutOffReading.CannotTell);
        int missing = rows.Count(r => !column.HasValue(r));
        return new ScoreReadingLine(
            measure.Id, measure.Label, score.Label,
            MeasureWords.Describe(score with { Definition = null }, protocol),
            CutOffReading.Words(measure, score.Components.Length),
            rows.Count(r => column.HasValue(r) && column.Values[r] == 1),
            rows.Count(r => column.HasValue(r) && column.Values[r] == 0),
            open, missing - open);
    }

    private static ScoreReadingPair Pair(MeasureColumn a, MeasureColumn b)
    {
        int[] counts = new int[4];
        for (int row = 0; row < a.Index.Rows; row++)
        {
            if (a.HasValue(row) && b.HasValue(row))
                counts[(2 * (int)a.Values[row]) + (int)b.Values[row]]++;
        }
        return new ScoreReadingPair(a.Definition.Label, b.Definition.Label, counts[3], counts[2], counts[1], counts[0]);
    }
}
