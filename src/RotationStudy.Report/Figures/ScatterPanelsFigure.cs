using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Two measures against each other, a panel per group such as a site, on the same axes, with the points of all others in grey behind.</summary>
internal static class ScatterPanelsFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        MeasurePair? pair = results.Values.Pairs.FirstOrDefault(p => p.Figure == request.Id);
        if (pair is null || pair.Points.IsEmpty)
            return FigureDrawing.Without(request, style, "No row has both values.");
        PlotFrame frame = new(
            request.Across is [double from, double to] ? AxisScale.Between(from, to, 4) : AxisScale.Around(pair.Points.Min(p => p.X), pair.Points.Max(p => p.X), 4),
            AxisScale.Around(pair.Points.Min(p => p.Y), pair.Points.Max(p => p.Y), 4), pair.XLabel, pair.YLabel)
        {
            Height = 130,
            LeastPanel = 70,
            Key = MarkKey.Of(
                new(KeySymbol.Mark, 0, "this panel"), new(KeySymbol.Box, FigureStyle.QuietSeries, "all others"),
                pair.Lines.Any(l => l.X.Length > 1) ? new(KeySymbol.Band, FigureStyle.InkSeries, "straight line, 95% band") : null,
                pair.MarkLabel is { } label ? new KeyEntry(KeySymbol.Ring, 1, label) : null),
        };
        PanelGrid grid = PanelGrid.Lay(request, style, frame, [.. pair.Groups.Select((g, i) => Head(pair, g, i))]);
        for (int g = 0; g < pair.Groups.Length; g++)
            DrawPanel(grid.Page, grid.Panels[g], grid.Plots[g], pair, g);
        return new FigureDrawing(grid.Page, Caption(results.Study, pair), Words(results.Study, request, pair), Data(pair)) { Method = pair.Method.Length > 0 ? pair.Method + "." : "" };
    }

    private static void DrawPanel(FigurePage page, PlotArea area, ScottPlot.Plot plot, MeasurePair pair, int group)
    {
        FigureStyle style = page.Style;
        PairPoint[] own = [.. pair.Points.Where(p => p.Group == group)], others = [.. pair.Points.Where(p => p.Group != group)];
        SeriesMark.Add(plot, 0, style.QuietInk, [.. others.Select(p => p.X)], [.. others.Select(p => p.Y)], pair.Points.Length * 3, 0.25);
        SeriesMark.Add(plot, 0, style.Series(0), [.. own.Select(p => p.X)], [.. own.Select(p => p.Y)], pair.Points.Length * 3, 0.9);
        if (group < pair.Lines.Length)
        {
            PairLine line = pair.Lines[group];
            plot.Band(line.X, line.Lower, line.Upper, style.Ink, PlotMarks.BandAlpha);
            plot.Curve(line.X, line.Mean, style.Ink);
        }
        foreach (PairPoint point in own.Where(p => p.Marked && p.X >= area.X.Min && p.X <= area.X.Max))
            page.Ring(area.ToX(point.X), area.ToY(point.Y), 2.6f, style.Series(1), 0.8f);
    }

    private static string Head(MeasurePair pair, string group, int at)
    {
        string slope = at < pair.Lines.Length && pair.Lines[at].Slope is { } s ? $", slope {FigureWords.WithInterval(s, 2)}" : "";
        return $"{(group.Length > 0 ? group : "all")}\nn = {NumberFormat.Count(pair.Points.Count(p => p.Group == at))}{slope}";
    }

    private static string People(StudyFacts study, MeasurePair pair) => FigureWords.People(study, new AnalysisCounts(
        pair.Points.Select(p => p.Person).Distinct().Count(), pair.Points.Any(p => p.Side >= 0) ? pair.Points.Length : 0, pair.Points.Length, 0, 0, null));

    private static string Caption(StudyFacts study, MeasurePair pair)
        => $"{FigureWords.Sentence(People(study, pair))}, by {pair.GroupLabel ?? "group"}; slopes with 95% intervals, not adjusted."
            + (pair.LeftOut > 0 ? $" Left out, a value missing: {NumberFormat.Count(pair.LeftOut)}." : "");

    private static string Words(StudyFacts study, FigureRequest request, MeasurePair pair)
        => $"{request.Title}. {pair.YLabel} against {pair.XLabel}, one panel for each of: {string.Join("; ", pair.Groups.Select((g, i) => Head(pair, g, i).Replace("\n", ": ", StringComparison.Ordinal)))}. {FigureWords.Sentence(People(study, pair))}.";

    private static FlatTable Data(MeasurePair pair) => new(
        ["kind", "group", "person", "side", "x", "y", "lower_95", "upper_95", "marked"],
        [
            .. pair.Lines.SelectMany((l, g) => l.X.Select((x, i) => FlatRow.Of("line", pair.Groups[g], "", "", x, l.Mean[i], l.Lower[i], l.Upper[i], ""))),
            .. pair.Points.Select(p => FlatRow.Of("point", pair.Groups[p.Group], p.Person + 1, p.Side switch { 0 => "left", 1 => "right", _ => "" }, p.X, p.Y, "", "", p.Marked ? "yes" : "no")),
        ]);
}
