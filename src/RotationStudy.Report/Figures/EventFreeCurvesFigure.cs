using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The share without an event over time, by group: steps with pointwise bands, ticks where follow-up ended, and numbers at risk below.</summary>
/// <remarks>The vertical axis always runs from 0 to 100%, so that a small difference looks small.</remarks>
internal static class EventFreeCurvesFigure
{
    private const float PlotHeight = 210, AxisRoom = 34, NarrowAxisRoom = 8, RiskHead = 14, LabelGap = 8;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        if (question is null || question.Curves.IsEmpty)
            return FigureDrawing.Without(request, style, question is null || question.Answered ? "There are no curves to draw." : question.Answer);

        ImmutableArray<EventFreeCurve> curves = question.Curves;
        RiskTable risk = RiskTable.Of(curves, new SmallCounts(results.Study.SmallestPrintedCount), style);
        float width = style.Width - 2 * FigureTheme.Margin;
        float top = FigureTitle.Height(request.Title, width) + 4;
        float axisRoom = AxisRoom + (style.IsNarrow ? NarrowAxisRoom : 0);
        float rest = top + axisRoom + RiskHead + risk.Height + FigureTheme.Margin, plotHeight = Math.Max(style.PlotHeight(PlotHeight, rest), CurveLabels.Height(curves, style));
        FigurePage page = new(style, rest + plotHeight);
        FigureTitle.Write(page, request.Title, width);

        PlotArea area = Area(curves, risk, style, top, plotHeight);
        ScottPlot.Plot plot = area.AddTo(page);
        for (int group = 0; group < curves.Length; group++)
            AddCurve(plot, curves[group], group, style.Series(group));
        area.Letter(page, curves[0].TimeLabel, ShareLabel(results.Study), TickColumn(area.Y));
        CurveLabels.Write(page, area, curves);
        risk.Write(page, area, area.Area.Bottom + axisRoom);
        return new FigureDrawing(
            page, CurveWords.Caption(results.Study, question), CurveWords.AlternativeText(results.Study, request, question), CurveWords.Data(results.Study, curves));
    }

    private static PlotArea Area(ImmutableArray<EventFreeCurve> curves, RiskTable risk, FigureStyle style, float top, float plotHeight)
    {
        AxisScale y = new(0, 1.015, [.. Enumerable.Range(0, 6).Select(i => new AxisTick(i / 5.0, NumberFormat.Percent(i / 5.0)))]);
        double end = Math.Max(curves.Max(CurveSteps.End), risk.Times[^1]);
        AxisScale x = new(0, end > 0 ? end : 1, [.. risk.Times.Select(t => new AxisTick(t, NumberFormat.Brief(t)))]);
        float left = FigureTheme.Margin + Math.Max(risk.LabelWidth + LabelGap, TickColumn(y) + FigureTheme.TextSize * 1.4f);
        float right = style.Width - FigureTheme.Margin - Math.Max(CurveLabels.Room(curves, style), risk.CellWidth / 2 + 2);
        return new PlotArea(new SKRect(left, top, right, top + plotHeight), x, y);
    }

    private static float TickColumn(AxisScale y)
        => y.Ticks.Max(t => Lettering.Width(t.Label, FigureTheme.TextSize)) + FigureTheme.TickLength + 9;

    private static string ShareLabel(StudyFacts study)
        => $"{char.ToUpperInvariant((study.UnitMany ?? study.ParticipantMany)[0])}{(study.UnitMany ?? study.ParticipantMany)[1..]} without an event";

    private static void AddCurve(ScottPlot.Plot plot, EventFreeCurve curve, int group, SKColor ink)
    {
        ScottPlot.Color color = ink.ToPlot();
        CurveSteps steps = CurveSteps.Of(curve);
        ScottPlot.Plottables.FillY band = plot.Add.FillY(steps.Times, steps.Lower, steps.Upper);
        band.FillColor = ink.ToPlot(0.13);
        band.LineStyle.IsVisible = false;
        band.MarkerStyle.IsVisible = false;

        ScottPlot.Plottables.Scatter line = plot.Add.ScatterLine(steps.Times, steps.Share);
        line.LineWidth = FigureTheme.CurveWidth;
        line.LinePattern = FigureTheme.Pattern(group);
        line.Color = color;

        if (curve.CensorTimes.IsEmpty)
            return;
        ScottPlot.Plottables.Markers ticks = plot.Add.Markers(
            curve.CensorTimes.ToArray(), curve.CensorTimes.Select(t => CurveSteps.At(curve, t)).ToArray());
        ticks.MarkerStyle.Shape = ScottPlot.MarkerShape.VerticalBar;
        ticks.MarkerStyle.Size = 5;
        ticks.MarkerStyle.LineWidth = 0.6f;
        ticks.MarkerStyle.LineColor = color;
    }
}
