using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;
using RotationStudy.Study.Measures;

namespace RotationStudy.Study.Analyses.Tracking;

/// <summary>A summary of the curves in both groups.</summary>
/// <param name="Label">What it is.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="First">Mean in the first group.</param>
/// <param name="Second">Mean in the second.</param>
/// <param name="Rows">Rows with a value.</param>
/// <param name="Difference">First minus second, variance by person.</param>
/// <param name="PValue">By permutation of persons, this summary alone; null where nothing could be exchanged.</param>
/// <param name="Adjusted">Adjusted for the number of summaries by the largest statistic.</param>
internal sealed record SummaryLine(string Label, string? Unit, double First, double Second, int Rows, Estimate Difference, double? PValue, double? Adjusted);

/// <summary>Compares the summaries that the question names between the two groups.</summary>
internal static class SummaryComparison
{
    internal static ImmutableArray<SummaryLine> Compare(AnalysisInput input, ArcCurves curves, List<string> warnings)
    {
        if (input.Question.Summaries.IsEmpty)
            return [];
        MeasureColumn[] measures = [.. input.Question.Summaries.Select(s => input.Measures[s])];
        double?[][] values = [.. curves.Keys.Select(k => measures.Select(m => Value(m, k)).ToArray())];
        bool[] marked = curves.Marked();
        CurvePermutationResult? test = Test(input, curves, values, marked, warnings);
        ImmutableArray<SummaryLine>.Builder lines = ImmutableArray.CreateBuilder<SummaryLine>();
        for (int s = 0; s < measures.Length; s++)
        {
            try
            {
                lines.Add(Line(measures[s], s, values, marked, curves, test));
            }
            catch (StatisticsError error)
            {
                warnings.Add($"{measures[s].Definition.Label} is not compared: {error.What}.");
            }
        }
        return lines.ToImmutable();
    }

    private static double? Value(MeasureColumn measure, RowKey key)
        => measure.Index.Find(key) is var row && row >= 0 && measure.HasValue(row) ? measure.Values[row] : null;

    /// <summary>Summaries stand side by side like the points of a curve, so the same test holds their error rate.</summary>
    private static CurvePermutationResult? Test(AnalysisInput input, ArcCurves curves, double?[][] values, bool[] marked, List<string> warnings)
    {
        try
        {
            CurveSet set = CurveSet.From([.. input.Question.Summaries.Select((_, i) => (double)i)], values, curves.Set.Clusters);
            return CurvePermutation.Test(set, marked, curves.Slots, new PermutationOptions { Seed = (ulong)input.Protocol.Study.Seed, Stream = $"summaries {input.Question.Id}" });
        }
        catch (TooFewDataError error)
        {
            warnings.Add($"No permutation test of the summaries: {error.What}.");
            return null;
        }
    }

    private static SummaryLine Line(MeasureColumn measure, int at, double?[][] values, bool[] marked, ArcCurves curves, CurvePermutationResult? test)
    {
        int[] rows = [.. Enumerable.Range(0, values.Length).Where(r => values[r][at] is not null)];
        double[] y = [.. rows.Select(r => values[r][at]!.Value)];
        double[] first = [.. rows.Select(r => marked[r] ? 1.0 : 0)];
        Clusters persons = curves.Set.Clusters.SelectRows(rows);
        Estimate difference = LinearRegression.Fit(DesignMatrix.WithIntercept(("group", first)), y).ClusterRobust(persons).Estimate("group");
        return new SummaryLine(
            measure.Definition.Label, measure.Definition.Unit,
            y.Where((_, i) => first[i] == 1).Average(), y.Where((_, i) => first[i] == 0).Average(), rows.Length,
            difference, test?.PValues[at], test?.Adjusted[at]);
    }
}
