using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Weeks of diaries by participant, those with the longest diary first; all measures of a figure in one order.</summary>
internal static class DiaryStripsBuilder
{
    internal static DiaryWeeksDrawn Build(FigureDefinition figure, DerivedMeasures measures)
    {
        MeasureColumn[] columns = [.. figure.Measures.Select(id => measures[id])];
        IGrouping<int, RowKey>[] people = [.. columns[0].Index.Keys.GroupBy(k => k.Participant).OrderByDescending(g => g.Count()).ThenBy(g => g.Key)];
        return new DiaryWeeksDrawn(figure.Id, [.. columns.Select(c => new DiaryStrips(Labels.WithUnit(c.Definition), [.. people.Select(p => Strip(c, [.. p]))]))]);
    }

    private static DiaryStrip Strip(MeasureColumn column, RowKey[] weeks)
        => new(1, [.. weeks.OrderBy(w => w.Occasion).Select(w => column.Index.Find(w) is >= 0 and int row && column.HasValue(row) ? (double?)column.Values[row] : null)]);
}
