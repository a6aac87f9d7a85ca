using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Two measures against each other, both sides of a person joined by a thin line, rows with an event ringed.</summary>
internal static class PairedPointsFigure
{
    private const int RingSeries = 1;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        MeasurePair? pair = results.Values.Pairs.FirstOrDefault(p => p.Figure == request.Id);
        if (pair is null || pair.Points.IsEmpty)
            return FigureDrawing.Without(request, style, "No row has both values.");
        string many = results.Study.UnitMany ?? "rows", one = results.Study.ParticipantOne;
        PlotFrame frame = new(Axis(pair, request, p => p.X), AxisScale.Around(pair.Points.Min(p => p.Y), pair.Points.Max(p => p.Y), 6), pair.XLabel, pair.YLabel)
        {
            Height = 270,
            Key = MarkKey.Of(
                new(KeySymbol.Mark, 0, $"left {many}"), new(KeySymbol.Mark, 3, $"right {many}"), new(KeySymbol.Thin, 0, $"both of one {one}"),
                pair.MarkLabel is { } label ? new KeyEntry(KeySymbol.Ring, RingSeries, label) : null),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        double alpha = Math.Clamp(120.0 / pair.Points.Length, 0.15, 0.8);
        foreach (PairPoint[] both in Joined(pair))
            plot.Curve(both.Select(p => p.X), both.Select(p => p.Y), style.QuietInk, 0.5f, alpha: alpha);
        foreach ((int series, Func<PairPoint, bool> side) in new (int, Func<PairPoint, bool>)[] { (0, p => p.Side != 1), (3, p => p.Side == 1) })
        {
            PairPoint[] points = [.. pair.Points.Where(side)];
            SeriesMark.Add(plot, series, style.Series(series), [.. points.Select(p => p.X)], [.. points.Select(p => p.Y)], pair.Points.Length);
        }
        foreach (PairPoint point in pair.Points.Where(p => p.Marked && p.X >= area.X.Min && p.X <= area.X.Max))
            page.Ring(area.ToX(point.X), area.ToY(point.Y), pair.Points.Length > 1500 ? 2.4f : 3.4f, style.Series(RingSeries), 0.9f);
        return new FigureDrawing(page, Caption(results.Study, pair), Words(results.Study, request, pair), Data(pair)) { Method = "Measured values as they are; nothing was estimated." };
    }

    private static AxisScale Axis(MeasurePair pair, FigureRequest request, Func<PairPoint, double> of)
        => request.Across is [double from, double to] ? AxisScale.Between(from, to, 7) : AxisScale.Around(pair.Points.Min(of), pair.Points.Max(of), 7);

    private static PairPoint[][] Joined(MeasurePair pair)
        => [.. pair.Points.GroupBy(p => p.Person).Select(g => g.ToArray()).Where(g => g.Length == 2)];

    private static string Counts(StudyFacts study, MeasurePair pair)
    {
        int people = pair.Points.Select(p => p.Person).Distinct().Count();
        return FigureWords.People(study, new AnalysisCounts(people, pair.Points.Length, pair.Points.Length, 0, 0, null));
    }

    private static string Caption(StudyFacts study, MeasurePair pair)
    {
        int marked = pair.Points.Count(p => p.Marked);
        string ringed = pair.MarkLabel is { } label ? $" Ringed: {label} ({NumberFormat.Count(marked)})." : "";
        return $"{FigureWords.Sentence(Counts(study, pair))}, both measured in {NumberFormat.Count(Joined(pair).Length)}.{ringed}"
            + (pair.LeftOut > 0 ? $" Left out, a value missing: {NumberFormat.Count(pair.LeftOut)}." : "");
    }

    private static string Words(StudyFacts study, FigureRequest request, MeasurePair pair)
    {
        string Span(IEnumerable<double> v) => $"{NumberFormat.Brief(v.Min())} to {NumberFormat.Brief(v.Max())}";
        string Mean(bool marked) => pair.Points.Any(p => p.Marked == marked)
            ? $"mean {NumberFormat.Brief(pair.Points.Where(p => p.Marked == marked).Average(p => p.X))} across and {NumberFormat.Brief(pair.Points.Where(p => p.Marked == marked).Average(p => p.Y))} up"
            : "none";
        return $"{request.Title}. {pair.YLabel} against {pair.XLabel}; {Counts(study, pair)}; {Span(pair.Points.Select(p => p.X))} across, {Span(pair.Points.Select(p => p.Y))} up."
            + (pair.MarkLabel is { } label ? $" {label}: {Mean(true)}; the others: {Mean(false)}." : "");
    }

    private static FlatTable Data(MeasurePair pair) => new(
        ["person", "side", "x", "y", "marked"],
        [.. pair.Points.Select(p => FlatRow.Of(p.Person + 1, p.Side switch { 0 => "left", 1 => "right", _ => "" }, p.X, p.Y, p.Marked ? "yes" : "no"))]);
}
