using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>How often each value of a score occurs, for each definition that a figure names.</summary>
internal static class ScoreDistributions
{
    internal static ScoreCounts Build(FigureDefinition figure, DerivedMeasures measures)
        => new(figure.Id, [.. figure.Measures.Select(id => Of(measures[id]))]);

    private static ScoreDistribution Of(MeasureColumn score)
    {
        double[] values = [.. Enumerable.Range(0, score.Index.Rows).Where(score.HasValue).Select(r => score.Values[r])];
        IGrouping<double, double>[] counted = [.. values.GroupBy(v => v).OrderBy(g => g.Key)];
        return new ScoreDistribution(
            Labels.WithUnit(score.Definition), [.. counted.Select(g => g.Key)], [.. counted.Select(g => g.Count())],
            score.Index.Rows - values.Length, values.Length == 0 ? null : values.Average());
    }
}
