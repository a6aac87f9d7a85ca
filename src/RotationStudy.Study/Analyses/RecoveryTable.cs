using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Times after an event: how many had it, how many reached each milestone, and the median time by a curve that knows who was watched how long.</summary>
internal static class RecoveryTable
{
    private const double Quarter = 0.25;
    private const int FewestForMedian = 5;

    internal static ResultTable? Build(DerivedMeasures measures, StudyProtocol protocol)
    {
        if (measures.Waits.IsEmpty)
            return null;
        return new ResultTable(
            "recovery", "Recovery: times after an event",
            ["Time", "Counted from the first", "Had the event", "Reached", "Median time", "First and last quarter", "Unit"],
            [.. measures.Waits.Select(w => new TableRow(Cells(w, protocol.Study.SmallestPrintedCount), 0))],
            [
                "Medians and quarters by Kaplan and Meier, with those not there yet watched to the end of their follow-up; the interval of 95% knows that two sides belong to one person.",
                .. OrderNotes(measures, protocol),
            ]);
    }

    private static ImmutableArray<TableCell> Cells(WaitedFor wait, int smallest)
    {
        AfterMeasure measure = (AfterMeasure)wait.Time.Definition;
        List<(double Time, bool Reached, int Person)> rows = [];
        for (int row = 0; row < wait.Reached.Index.Rows; row++)
        {
            if (wait.Reached.HasValue(row) && wait.Watched.HasValue(row))
                rows.Add((wait.Watched.Values[row], wait.Reached.Values[row] > 0, wait.Reached.Index.Keys[row].Participant));
        }
        int reached = rows.Count(r => r.Reached);
        (string median, string quarters) = reached < Math.Max(FewestForMedian, smallest) ? ("too few", "") : Curve(rows);
        return
        [
            new(measure.Label, null), new(MeasureWords.Events(measure.Origin), null),
            Hidden(rows.Count, smallest), Hidden(reached, smallest), new(median, null), new(quarters, null), new(measure.Unit ?? string.Empty, null),
        ];
    }

    private static (string Median, string Quarters) Curve(List<(double Time, bool Reached, int Person)> rows)
    {
        SurvivalCurve curve = KaplanMeier.Estimate(
            SurvivalTimes.RightCensored([.. rows.Select(r => r.Time)], [.. rows.Select(r => r.Reached)]),
            Clusters.From([.. rows.Select(r => r.Person)]));
        SurvivalQuantile median = curve.Median;
        string interval = double.IsFinite(median.Value) ? $" ({Text(median.Interval.Lower)} to {Text(median.Interval.Upper)})" : string.Empty;
        return (Text(median.Value) + interval, $"{Text(curve.Quantile(Quarter).Value)} to {Text(curve.Quantile(1 - Quarter).Value)}");
    }

    private static IEnumerable<string> OrderNotes(DerivedMeasures measures, StudyProtocol protocol)
    {
        foreach (MeasureColumn order in measures.Columns.Where(c => c.Definition is InOrderMeasure))
        {
            int[] counts = [.. order.Codes.Select((_, code) => Enumerable.Range(0, order.Index.Rows).Count(r => order.HasValue(r) && (int)order.Values[r] == code))];
            int smallest = protocol.Study.SmallestPrintedCount;
            yield return $"{order.Definition.Label}: {string.Join(", ", order.Codes.Select((c, i) => $"{Hidden(counts[i], smallest).Text} {c.Meaning}"))}.";
        }
    }

    /// <summary>A count, or that it is too small to print.</summary>
    internal static TableCell Hidden(int count, int smallest)
        => count > 0 && count < smallest
            ? new TableCell(string.Create(CultureInfo.InvariantCulture, $"<{smallest}"), count)
            : new TableCell(count.ToString(CultureInfo.InvariantCulture), count);

    private static string Text(double value)
        => double.IsFinite(value) ? value.ToString("0.0", CultureInfo.InvariantCulture) : "not reached";
}
