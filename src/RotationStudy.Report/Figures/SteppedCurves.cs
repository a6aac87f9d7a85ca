using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Stepped curves by group with bands, group names at their ends, and numbers at risk below the time axis.</summary>
internal static class SteppedCurves
{
    private const float PlotHeight = 210, AxisRoom = 34, NarrowAxisRoom = 8, RiskHead = 14, LabelGap = 8;

    /// <summary>The page with everything on it.</summary>
    internal static FigurePage Lay(StudyFacts study, FigureRequest request, FigureStyle style, ImmutableArray<EventFreeCurve> curves, AxisScale values, string valueLabel)
    {
        RiskTable risk = RiskTable.Of(curves, new SmallCounts(study.SmallestPrintedCount), style);
        float width = style.Width - 2 * FigureTheme.Margin;
        float top = FigureTitle.Height(request.Title, width) + 4;
        float axisRoom = AxisRoom + (style.IsNarrow ? NarrowAxisRoom : 0);
        float rest = top + axisRoom + RiskHead + risk.Height + FigureTheme.Margin, plotHeight = Math.Max(style.PlotHeight(PlotHeight, rest), CurveLabels.Height(curves, style));
        FigurePage page = new(style, rest + plotHeight);
        FigureTitle.Write(page, request.Title, width);
        risk = risk.Fitting(Area(curves, risk, values, style, top, plotHeight).Area.Width, End(curves, risk));
        PlotArea area = Area(curves, risk, values, style, top, plotHeight);
        ScottPlot.Plot plot = area.AddTo(page);
        for (int group = 0; group < curves.Length; group++)
            AddCurve(plot, curves[group], group, style.Series(group));
        area.Letter(page, curves[0].TimeLabel, valueLabel, TickColumn(values));
        CurveLabels.Write(page, area, curves);
        risk.Write(page, area, area.Area.Bottom + axisRoom);
        return page;
    }

    private static double End(ImmutableArray<EventFreeCurve> curves, RiskTable risk)
        => Math.Max(curves.Max(CurveSteps.End), risk.Times[^1]) is > 0 and double end ? end : 1;

    private static PlotArea Area(ImmutableArray<EventFreeCurve> curves, RiskTable risk, AxisScale y, FigureStyle style, float top, float plotHeight)
    {
        AxisScale x = new(0, End(curves, risk), [.. risk.Times.Select(t => new AxisTick(t, NumberFormat.Brief(t)))]);
        float left = FigureTheme.Margin + Math.Max(risk.LabelWidth + LabelGap, TickColumn(y) + FigureTheme.TextSize * 1.4f);
        float right = style.Width - FigureTheme.Margin - Math.Max(CurveLabels.Room(curves, style), risk.CellWidth / 2 + 2);
        return new PlotArea(new SKRect(left, top, right, top + plotHeight), x, y);
    }

    private static float TickColumn(AxisScale y)
        => y.Ticks.Max(t => Lettering.Width(t.Label, FigureTheme.TextSize)) + FigureTheme.TickLength + 9;

    private static void AddCurve(ScottPlot.Plot plot, EventFreeCurve curve, int group, SKColor ink)
    {
        ScottPlot.Color color = ink.ToPlot();
        CurveSteps steps = CurveSteps.Of(curve);
        plot.Band(steps.Times, steps.Lower, steps.Upper, ink, 0.13);
        plot.Curve(steps.Times, steps.Share, ink, pattern: FigureTheme.Pattern(group));

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
