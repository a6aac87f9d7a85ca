using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Mean curves over an arc with simultaneous bands, single curves faint; below, the difference of two groups and where it is real.</summary>
internal static class TrackingCurvesFigure
{
    private const float DifferenceHeight = 90, SlideDifference = 44, HeadRoom = 16;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        TrackingResult? tracking = results.Tracking.FirstOrDefault(t => request.Questions.Contains(t.Question));
        if (tracking is null || tracking.Arc.Length < 2 || tracking.Groups.IsEmpty)
            return FigureDrawing.Without(request, style, "There are no curves to draw.");
        AxisScale x = request.Across is [double from, double to] ? AxisScale.Between(from, to, 7) : AxisScale.Around(tracking.Arc[0], tracking.Arc[^1], 7);
        double[] heights = [.. tracking.Groups.SelectMany(g => g.Lower.Concat(g.Upper).Concat(g.Singles.SelectMany(s => s)))];
        float second = tracking.Difference is null ? 0 : style.LeastDots > 0 ? SlideDifference : DifferenceHeight;
        PlotFrame frame = new(x, AxisScale.Around(heights.Min(), heights.Max(), 5), tracking.Difference is null ? tracking.ArcLabel : "", tracking.ValueLabel)
        {
            Height = 190,
            Below = second == 0 ? 0 : second + HeadRoom + FigureTheme.TickLength + FigureTheme.TextSize,
            Key = new MarkKey([
                .. tracking.Groups.Select((g, i) => new KeyEntry(KeySymbol.Band, i, $"{g.Name} (n = {NumberFormat.Count(g.Units > 0 ? g.Units : g.Participants)})")),
                .. tracking.Groups.Any(g => !g.Singles.IsEmpty) ? ImmutableArray.Create(new KeyEntry(KeySymbol.Thin, 0, "single curves")) : [],
            ]),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        int singles = tracking.Groups.Sum(g => g.Singles.Length);
        for (int g = 0; g < tracking.Groups.Length; g++)
            AddGroup(plot, tracking, g, style, Math.Clamp(10.0 / Math.Max(1, singles), 0.06, 0.4));
        if (tracking.Difference is { } difference)
            DrawDifference(page, frame, tracking, difference, area, second);
        return new FigureDrawing(page, Caption(results.Study, tracking), Words(results.Study, request, tracking), Data(tracking)) { Method = tracking.Method };
    }

    private static void AddGroup(ScottPlot.Plot plot, TrackingResult tracking, int at, FigureStyle style, double alpha)
    {
        TrackingGroup group = tracking.Groups[at];
        foreach (ImmutableArray<double> single in group.Singles)
            plot.Curve(tracking.Arc, single, style.Series(at), 0.5f, alpha: alpha);
        plot.Band(tracking.Arc, group.Lower, group.Upper, style.Series(at), 0.22);
        plot.Curve(tracking.Arc, group.Mean, style.Series(at), 1.8f, FigureTheme.Pattern(at));
    }

    private static void DrawDifference(FigurePage page, PlotFrame frame, TrackingResult tracking, TrackingDifference difference, PlotArea above, float height)
    {
        FigureStyle style = page.Style;
        double[] ends = [0, .. difference.Lower, .. difference.Upper];
        float top = above.Area.Bottom + FigureTheme.TickLength + FigureTheme.TextSize + HeadRoom;
        PlotArea area = new(new SkiaSharp.SKRect(above.Area.Left, top, above.Area.Right, top + height), frame.X, AxisScale.Around(ends.Min(), ends.Max(), height > SlideDifference ? 3 : 2));
        ScottPlot.Plot plot = area.AddTo(page);
        plot.Band(tracking.Arc, difference.Lower, difference.Upper, style.QuietInk);
        plot.Curve(tracking.Arc, difference.Mean, style.Ink);
        plot.Curve([frame.X.Min, frame.X.Max], [0, 0], style.QuietInk, FigureTheme.AxisWidth, new ScottPlot.LinePattern([3, 2], 0, "dashes"));
        area.Letter(page, tracking.ArcLabel, "Difference", PlotFrame.TickColumn(frame.Y));
        foreach (ArcStretch stretch in difference.Apart)
            page.Line(area.ToX(Math.Max(stretch.From, frame.X.Min)), area.Area.Bottom - 2, area.ToX(Math.Min(stretch.To, frame.X.Max)), area.Area.Bottom - 2, style.Series(1), 3);
    }

    private static string Apart(TrackingDifference d) => d.Apart.IsEmpty
        ? $"no stretch of the arc differs ({NumberFormat.PClause(d.PValue)})"
        : $"they differ at {string.Join(" and ", d.Apart.Select(s => $"{NumberFormat.Brief(s.From)} to {NumberFormat.Brief(s.To)}"))} ({NumberFormat.PClause(d.PValue)} over the whole arc)";

    private static string Caption(StudyFacts study, TrackingResult tracking)
        => $"{FigureWords.PeopleSentence(study, tracking.Counts)} Bands hold the whole mean curve with 95% confidence."
            + (tracking.Difference is { } d ? $" Below: {d.Label}; {Apart(d)}; a thick line marks such stretches." : "");

    private static string Words(StudyFacts study, FigureRequest request, TrackingResult tracking)
    {
        IEnumerable<string> groups = tracking.Groups.Select(g =>
            $"{g.Name}: from {NumberFormat.Brief(Math.Round(g.Mean[0], 2))} at {NumberFormat.Brief(tracking.Arc[0])} to {NumberFormat.Brief(Math.Round(g.Mean[^1], 2))} at {NumberFormat.Brief(tracking.Arc[^1])}.");
        return $"{request.Title}. {tracking.ValueLabel} over {tracking.ArcLabel}; {FigureWords.People(study, tracking.Counts)}. {string.Join(" ", groups)}"
            + (tracking.Difference is { } d ? $" {FigureWords.Sentence(d.Label)}: {Apart(d)}." : "");
    }

    private static FlatTable Data(TrackingResult tracking) => new(
        ["kind", "group", "arc", "mean", "lower_95", "upper_95"],
        [
            .. tracking.Groups.SelectMany(g => tracking.Arc.Select((a, i) => FlatRow.Of("mean", g.Name, a, g.Mean[i], g.Lower[i], g.Upper[i]))),
            .. tracking.Difference is { } d ? tracking.Arc.Select((a, i) => FlatRow.Of("difference", d.Label, a, d.Mean[i], d.Lower[i], d.Upper[i])) : [],
            .. tracking.Difference?.Apart.Select(s => FlatRow.Of("differs from, to", "", s.From, s.To, "", "")) ?? [],
            .. tracking.Groups.SelectMany(g => g.Singles.SelectMany((single, n) => tracking.Arc.Select((a, i) => FlatRow.Of($"single {n + 1}", g.Name, a, single[i], "", "")))),
        ]);
}
