using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Curves;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Tracking;

/// <summary>Curves in a sentence and in tables.</summary>
internal static class CurveWords
{
    private const string Sep = " to ";
    private const double Detectable = 1.959963984540054 * 1.4142135623730951;

    internal static string Sentence(TrackingResult result, CurveReadings readings, ImmutableArray<SummaryLine> summaries)
    {
        if (result.Difference is not { } difference)
            return $"{readings.Label}: mean curve from {Degrees(result.Groups[0].Mean[0], readings.Unit)} at {At(result.Arc[0], readings.ArcUnit)} to {Degrees(result.Groups[0].Mean[^1], readings.Unit)} at {At(result.Arc[^1], readings.ArcUnit)}.";
        int largest = Enumerable.Range(0, result.Arc.Length).MaxBy(j => Math.Abs(difference.Mean[j]));
        string where = difference.Apart.IsEmpty
            ? "at no point of the arc do the groups differ beyond chance"
            : $"the groups differ beyond chance {Sentences.List(difference.Apart.Select(s => s.From == s.To ? $"at {At(s.From, readings.ArcUnit)}" : $"from {Point(s.From)} to {At(s.To, readings.ArcUnit)}"))}";
        string first = summaries.IsEmpty ? string.Empty
            : $" {string.Join("; ", summaries.Select(s => $"{s.Label}: difference {Degrees(s.Difference.Value, s.Unit)} (95% CI {Number(s.Difference.Interval.Lower)} to {Number(s.Difference.Interval.Upper)})"))}.";
        return $"{readings.Label}, {difference.Label}: largest difference {Degrees(difference.Mean[largest], readings.Unit)} at {At(result.Arc[largest], readings.ArcUnit)} (95% band {Number(difference.Lower[largest])} to {Number(difference.Upper[largest])}); "
            + $"{where} (whole arc, {Sentences.PValue(difference.PValue)}).{first}";
    }

    internal static ImmutableArray<ResultTable> Tables(
        TrackingResult result, CurvePermutationResult? test, CurveReadings readings, ImmutableArray<SummaryLine> summaries, TrialAgreement? trials, string? groupLabel)
    {
        List<ResultTable> tables = [Curves(result, test, readings, groupLabel)];
        if (!summaries.IsEmpty)
            tables.Add(Summaries(result, summaries));
        if (trials is not null)
            tables.Add(Trials(readings, trials));
        return [.. tables];
    }

    private static ResultTable Curves(TrackingResult result, CurvePermutationResult? test, CurveReadings readings, string? groupLabel)
    {
        List<string> columns = [result.ArcLabel, .. result.Groups.Select(g => g.Name)];
        if (result.Difference is not null)
            columns.AddRange([$"Difference: {result.Difference.Label}", "p, whole arc"]);
        List<TableRow> rows = [];
        for (int j = 0; j < result.Arc.Length; j++)
        {
            List<TableCell> cells = [new(Point(result.Arc[j]), result.Arc[j]), .. result.Groups.Select(g => Banded(g.Mean[j], g.Lower[j], g.Upper[j]))];
            if (result.Difference is { } d)
            {
                cells.Add(Banded(d.Mean[j], d.Lower[j], d.Upper[j]));
                cells.Add(test is null ? new TableCell("not tested", null) : P(test.Adjusted[j]));
            }
            rows.Add(new TableRow([.. cells], 0));
        }
        string people = Sentences.List(result.Groups.Select(g => g.Units > 0 ? $"{g.Name}: {g.Units} curves of {g.Participants} people" : $"{g.Name}: {g.Participants} people"));
        return new ResultTable(
            "curves", $"{readings.Label} over {Sentences.LowerFirst(readings.ArcLabel)}{(readings.Unit is null ? string.Empty : ", " + readings.Unit)}", [.. columns], [.. rows],
            [
                "In parentheses the 95% band that holds the whole curve at once: wider than an interval for one point.",
                $"{people}.",
                .. test is null ? Array.Empty<string>() : [$"p, whole arc: adjusted for all points by the largest statistic over {test.Permutations.ToString("N0", CultureInfo.InvariantCulture)} exchanges of labels between people{(groupLabel is null ? string.Empty : $" ({Sentences.LowerFirst(groupLabel)})")}."],
            ]);
    }

    private static ResultTable Summaries(TrackingResult result, ImmutableArray<SummaryLine> summaries) => new(
        "summaries", "Summaries of the curves",
        ["Summary", "Curves", result.Groups[0].Name, result.Groups[1].Name, "Difference (95% interval)", "p", "p, all summaries"],
        [.. summaries.Select(s => new TableRow(
            [
                new(s.Unit is null ? s.Label : $"{s.Label}, {s.Unit}", null), new(s.Rows.ToString(CultureInfo.InvariantCulture), s.Rows),
                new(Number(s.First), s.First), new(Number(s.Second), s.Second),
                Banded(s.Difference.Value, s.Difference.Interval.Lower, s.Difference.Interval.Upper),
                s.PValue is { } p ? P(p) : new TableCell("not tested", null), s.Adjusted is { } a ? P(a) : new TableCell("not tested", null),
            ],
            0))],
        ["Interval with variance by person. p by exchange of labels between people; all summaries: adjusted by the largest statistic.", "The largest value of a noisy curve lies above that of its true course; groups of unequal noise differ in it without differing in their curves."]);

    private static ResultTable Trials(CurveReadings readings, TrialAgreement trials)
    {
        CurveReliabilityResult r = trials.Reliability;
        IEnumerable<TableRow> points = r.Grid.Select((g, j) => new TableRow(
            [
                new(At(g, readings.ArcUnit), g),
                r.Correlations[j] is { } icc ? new TableCell(IccWords(icc, r.Intervals[j]), icc) : new TableCell("no variation", null),
                new(string.Empty, null), new(string.Empty, null),
            ],
            1));
        TableRow whole = new(
            [
                new("Whole arc", null), new(IccWords(r.Overall, r.OverallInterval), r.Overall), Banded(r.Error, r.ErrorInterval.Lower, r.ErrorInterval.Upper),
                new(Number(Detectable * r.Error), Detectable * r.Error),
            ],
            0);
        string unit = readings.Unit is null ? string.Empty : $", {readings.Unit}";
        return new ResultTable(
            "trials", "Agreement of the trials of a side", ["Arc", "ICC(1,1) of one trial", $"Error of one trial{unit}", $"Smallest detectable change{unit}"], [whole, .. points],
            [
                $"{r.Curves} trials of {r.Subjects} sides of {r.Clusters} people; 95% intervals by bootstrap of people. Whole arc: variances summed over the arc before they are divided.",
                "Trials are repeated within minutes: the error of another day or of another set-up of the measurement is not in it.",
                .. trials.Likeness is { } likeness ? [Likeness(likeness)] : Array.Empty<string>(),
            ]);
    }

    private static string Likeness(MultipleCorrelationResult likeness)
    {
        int defined = likeness.Values.Count(v => v is not null);
        string none = likeness.Undefined == 0 ? "none has no value" : $"{likeness.Undefined} have no value, because trials scatter more than the curve moves";
        string median = likeness.Median is { } m ? $"median {Icc(m)} over {defined} sides" : "no side has a value";
        return $"Coefficient of multiple correlation: {median}; {none}. It rises with the range of a curve, so a flat curve looks unreliable with the same error; the error in the unit of the curve has no such limit.";
    }

    private static TableCell Banded(double value, double lower, double upper) => new($"{Number(value)} ({Number(lower)}{Sep}{Number(upper)})", value);

    private static TableCell P(double p) => new(p < 0.001 ? "< 0.001" : p.ToString("0.000", CultureInfo.InvariantCulture), p);

    private static string IccWords(double value, ConfidenceInterval interval) => $"{Icc(value)} ({Icc(interval.Lower)}{Sep}{Icc(interval.Upper)})";

    private static string Icc(double value) => value.ToString("0.00", CultureInfo.InvariantCulture).Replace('-', '\u2212');

    private static string Degrees(double value, string? unit) => unit is null ? Number(value) : $"{Number(value)} {unit}";

    /// <summary>A point of the arc as it was set, not to three digits.</summary>
    private static string Point(double value) => value.ToString("0.###", CultureInfo.InvariantCulture).Replace('-', '\u2212');

    private static string At(double value, string? unit) => unit is null ? Point(value) : $"{Point(value)} {unit}";

    private static string Number(double value) => Sentences.Number(value);
}
