using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Outcome against one exposure: a point per row, by side, with the adjusted mean and its band.</summary>
/// <remarks>Points are not jittered: they lie where the data say. Ties darken, since points let light through.</remarks>
internal static class FitScatterFigure
{
    private const int ManyPoints = 1500;
    private const float PlotHeight = 250, KeyHeight = 16, BottomRoom = 40, TickColumnGap = 10;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        FitScatter? scatter = question?.Scatters.FirstOrDefault(s => request.Exposure is null || s.Exposure == request.Exposure);
        if (question is null || scatter is null || scatter.X.IsEmpty)
            return FigureDrawing.Without(request, style, question is null || question.Answered ? "There are no points to draw." : question.Answer);

        float width = style.Width - 2 * FigureTheme.Margin;
        float top = FigureTitle.Height(request.Title, width) + KeyHeight * (style.IsNarrow ? 2 : 1);
        FigurePage page = new(style, top + style.PlotHeight(PlotHeight, top + BottomRoom) + BottomRoom);
        FigureTitle.Write(page, request.Title, width);
        PlotArea area = Area(scatter, request, style, top, page.Height - BottomRoom);
        ScottPlot.Plot plot = area.AddTo(page);
        AddBand(plot, scatter, style);
        ImmutableArray<string> sides = SideNames(results.Study, scatter);
        AddPoints(plot, scatter, style, sides.Length);
        AddLine(plot, scatter, style);
        area.Letter(page, scatter.XLabel, scatter.YLabel, TickColumn(area.Y));
        WriteKey(page, top - 5 - (style.IsNarrow ? KeyHeight - 4 : 0), sides, !scatter.LineX.IsEmpty);
        return new FigureDrawing(page, Caption(results.Study, question, scatter) + Outside(request, scatter), Words(results.Study, request, question, scatter), Data(scatter));
    }

    private static PlotArea Area(FitScatter s, FigureRequest request, FigureStyle style, float top, float bottom)
    {
        AxisScale x = request.Across is [double from, double to]
            ? AxisScale.Between(from, to, 7)
            : AxisScale.Around(s.X.Concat(s.LineX).Min(), s.X.Concat(s.LineX).Max(), 7);
        AxisScale y = AxisScale.Around(s.Y.Concat(s.BandLower).Min(), s.Y.Concat(s.BandUpper).Max(), 6);
        float left = FigureTheme.Margin + TickColumn(y) + Lettering.Wrap(s.YLabel, FigureTheme.TextSize, bottom - top, 2).Length * FigureTheme.TextSize * 1.25f;
        return new PlotArea(new SKRect(left, top, style.Width - FigureTheme.Margin - 6, bottom), x, y);
    }

    private static float TickColumn(AxisScale y)
        => y.Ticks.Max(t => Lettering.Width(t.Label, FigureTheme.TextSize)) + FigureTheme.TickLength + TickColumnGap;

    private static ImmutableArray<string> SideNames(StudyFacts study, FitScatter s)
        => s.Side.IsEmpty || study.UnitMany is null ? [] : [$"left {study.UnitMany}", $"right {study.UnitMany}"];

    private static void AddBand(ScottPlot.Plot plot, FitScatter s, FigureStyle style)
    {
        if (s.LineX.Length < 2)
            return;
        ScottPlot.Plottables.FillY band = plot.Add.FillY(s.LineX.ToArray(), s.BandLower.ToArray(), s.BandUpper.ToArray());
        band.FillColor = style.QuietInk.ToPlot(0.2);
        band.LineStyle.IsVisible = false;
        band.MarkerStyle.IsVisible = false;
    }

    private static void AddPoints(ScottPlot.Plot plot, FitScatter s, FigureStyle style, int sides)
    {
        for (int side = 0; side < Math.Max(1, sides); side++)
        {
            int wanted = side;
            int[] rows = [.. Enumerable.Range(0, s.X.Length).Where(i => sides == 0 || s.Side[i] == wanted)];
            ScottPlot.Plottables.Markers points = plot.Add.Markers(
                rows.Select(i => s.X[i]).ToArray(), rows.Select(i => s.Y[i]).ToArray());
            Shape(points.MarkerStyle, style.Series(side), side, s.X.Length);
        }
    }

    private static void Shape(ScottPlot.MarkerStyle mark, SKColor ink, int side, int points)
    {
        bool many = points > ManyPoints;
        ScottPlot.Color color = ink.ToPlot(many ? 0.3 : 0.55);
        mark.Shape = side == 0 ? ScottPlot.MarkerShape.FilledCircle : ScottPlot.MarkerShape.OpenTriangleUp;
        mark.Size = (side == 0 ? 3.6f : 4.6f) * (many ? 0.7f : 1);
        mark.FillColor = color;
        mark.LineColor = color;
        mark.LineWidth = side == 0 ? 0 : 0.7f;
    }

    private static void AddLine(ScottPlot.Plot plot, FitScatter s, FigureStyle style)
    {
        if (s.LineX.Length < 2)
            return;
        ScottPlot.Plottables.Scatter line = plot.Add.ScatterLine(s.LineX.ToArray(), s.LineY.ToArray());
        line.LineWidth = FigureTheme.CurveWidth;
        line.Color = style.Ink.ToPlot();
    }

    private static void WriteKey(FigurePage page, float y, ImmutableArray<string> sides, bool line)
    {
        float x = FigureTheme.Margin;
        for (int side = 0; side < sides.Length; side++)
        {
            SKColor color = page.Style.Series(side);
            if (side == 0)
                page.Disc(x + 4, y - 3, 2.2f, color);
            else
                page.Outline(color, 0.9f, new(x + 4, y - 5.8f), new(x + 1.2f, y - 0.8f), new(x + 6.8f, y - 0.8f));
            x = page.Write(sides[side], x + 11, y).Box.Right + 16;
        }
        if (!line)
            return;
        if (page.Style.IsNarrow)
            (x, y) = (FigureTheme.Margin, y + KeyHeight - 4);
        page.Box(new SKRect(x, y - 6, x + 18, y), page.Style.QuietInk.WithAlpha(51));
        page.Line(x, y - 3, x + 18, y - 3, page.Style.Ink, FigureTheme.CurveWidth);
        page.Write("adjusted mean with 95% band", x + 23, y);
    }

    private static string Caption(StudyFacts study, QuestionResult question, FitScatter s)
        => $"{FigureWords.Points(study, s.X.Length)}; {FigureWords.People(study, question.Counts)}. "
            + "Line: mean at the average of the other terms, with its 95% band.";

    private static string Outside(FigureRequest request, FitScatter s)
        => request.Across is [double from, double to] && s.X.Count(x => x < from || x > to) is int outside and > 0
            ? $" {NumberFormat.Count(outside, "point lies", "points lie")} outside the axis."
            : "";

    private static string Words(StudyFacts study, FigureRequest request, QuestionResult question, FitScatter s)
    {
        EstimateRow? slope = question.Estimates.FirstOrDefault(e => e.Term == s.Exposure && e.Role == "exposure");
        string trend = slope is null ? "" : $" {slope.Label}: {NumberFormat.Estimate(slope)} (95% interval {NumberFormat.Interval(slope)}).";
        string line = s.LineX.IsEmpty ? "" :
            $" The adjusted mean runs from {NumberFormat.Brief(s.LineY[0])} at {NumberFormat.Brief(s.LineX[0])} to {NumberFormat.Brief(s.LineY[^1])} at {NumberFormat.Brief(s.LineX[^1])}.";
        return $"{request.Title}. Scatter of {NumberFormat.Count(s.X.Length)} points: {s.YLabel} against {s.XLabel}, "
            + $"from {NumberFormat.Brief(s.X.Min())} to {NumberFormat.Brief(s.X.Max())} across and {NumberFormat.Brief(s.Y.Min())} to {NumberFormat.Brief(s.Y.Max())} up; "
            + $"{FigureWords.People(study, question.Counts)}.{line}{trend}";
    }

    private static FlatTable Data(FitScatter s) => new(
        ["kind", "side", "x", "y", "lower_95", "upper_95"],
        [
            .. s.LineX.Select((x, i) => ImmutableArray.Create<FlatCell>("line", "", x, s.LineY[i], s.BandLower[i], s.BandUpper[i])),
            .. s.X.Select((x, i) => ImmutableArray.Create<FlatCell>("point", s.Side.IsEmpty ? "" : s.Side[i] == 0 ? "left" : "right", x, s.Y[i], "", "")),
        ]);
}
