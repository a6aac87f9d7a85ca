using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Observed against predicted risk: groups with intervals, a smooth curve with its band, the line of equality; below, how predicted risks are spread.</summary>
internal static class RiskCalibrationFigure
{
    private const float HistogramRoom = 44;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        if (RiskWords.Find(results, request) is not { Calibration: { Groups.IsEmpty: false } } risk)
            return FigureDrawing.Without(request, style, "There is no prediction to compare with what happened.");
        RiskCalibration c = risk.Calibration;
        AxisScale axis = Axis(c);
        PlotFrame frame = new(axis, axis, $"Predicted risk of {risk.Outcome}", "Observed share")
        {
            Height = 230,
            Below = HistogramRoom,
            Key = MarkKey.Of(
                new(KeySymbol.Mark, 0, "groups of equal size, 95% interval"),
                c.Predicted.Length > 1 ? new(KeySymbol.Band, 1, "smooth curve, 95% band") : null, new(KeySymbol.Dashed, 0, "predicted = observed")),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        plot.Curve([axis.Min, axis.Max], [axis.Min, axis.Max], style.QuietInk, FigureTheme.AxisWidth, new ScottPlot.LinePattern([3, 2], 0, "dashes"));
        plot.Band(c.Predicted, c.Lower, c.Upper, style.Series(1));
        plot.Curve(c.Predicted, c.Observed, style.Series(1), pattern: FigureTheme.Pattern(1));
        foreach (RiskGroup group in c.Groups)
        {
            float x = area.ToX(group.Predicted);
            page.Line(x, area.ToY(Math.Clamp(group.Lower, axis.Min, axis.Max)), x, area.ToY(Math.Clamp(group.Upper, axis.Min, axis.Max)), style.Series(0), 1.1f);
            page.Disc(x, area.ToY(Math.Clamp(group.Observed, axis.Min, axis.Max)), 2.8f, style.Series(0));
        }
        DrawHistogram(page, area, c);
        return new FigureDrawing(page, Caption(results.Study, risk), Words(results.Study, request, risk), Data(risk)) { Method = risk.Method };
    }

    private static AxisScale Axis(RiskCalibration c)
    {
        double top = c.Groups.Max(g => Math.Max(g.Upper, g.Predicted));
        AxisScale axis = AxisScale.Linear(0, Math.Clamp(Math.Max(top, c.Predicted.Append(0).Max()), 0.1, 1), 5);
        return axis with { Ticks = [.. axis.Ticks.Select(t => new AxisTick(t.At, NumberFormat.Percent(t.At)))] };
    }

    /// <summary>Rows with the event upward, those without downward, each by its own largest bin.</summary>
    private static void DrawHistogram(FigurePage page, PlotArea area, RiskCalibration c)
    {
        if (c.BinEdges.Length < 2)
            return;
        float label = FigureTheme.SmallSize * 1.3f, top = area.Area.Bottom + PlotFrame.AxisRoom, bottom = top + HistogramRoom - FigureTheme.Margin, middle = (top + bottom) / 2;
        double most = Math.Max(1, c.WithEvent.Concat(c.WithoutEvent).Max());
        for (int b = 0; b + 1 < c.BinEdges.Length; b++)
        {
            if (c.BinEdges[b] >= area.X.Max)
                break;
            float left = area.ToX(c.BinEdges[b]) + 0.3f, right = area.ToX(Math.Min(c.BinEdges[b + 1], area.X.Max)) - 0.3f, half = middle - top;
            page.Box(new SKRect(left, middle - half * (float)(c.WithEvent[b] / most), right, middle), page.Style.Series(1));
            page.Box(new SKRect(left, middle, right, middle + half * (float)(c.WithoutEvent[b] / most)), page.Style.Rule);
        }
        page.Line(area.Area.Left, middle, area.Area.Right, middle, page.Style.Rule, FigureTheme.GridWidth);
        page.Write("event", area.Area.Left - 4, middle - 3, FigureTheme.SmallSize, TextAnchor.End);
        page.Write("none", area.Area.Left - 4, middle + label - 2, FigureTheme.SmallSize, TextAnchor.End);
    }

    private static string Caption(StudyFacts study, RiskPerformance risk)
        => $"{RiskWords.Who(study, risk)} Observed over expected {FigureWords.WithInterval(risk.Calibration.ObservedOverExpected, 2)}, intercept {FigureWords.WithInterval(risk.Calibration.Intercept, 2)}, "
            + $"slope {FigureWords.WithInterval(risk.Calibration.Slope, 2)} (95% intervals). Below: predicted risks of rows with and without the event. {RiskWords.Caution}";

    private static string Words(StudyFacts study, FigureRequest request, RiskPerformance risk)
        => $"{request.Title}. {RiskWords.Who(study, risk)} " + string.Join(" ", risk.Calibration.Groups.Select(g =>
            $"Predicted {NumberFormat.Percent(g.Predicted, 1)}, observed {NumberFormat.Percent(g.Observed, 1)} ({NumberFormat.Percent(g.Lower, 1)} to {NumberFormat.Percent(g.Upper, 1)}) in {NumberFormat.Count(g.Rows)}."))
            + $" Slope {FigureWords.WithInterval(risk.Calibration.Slope, 2)}.";

    private static FlatTable Data(RiskPerformance risk) => new(
        ["kind", "predicted", "observed", "lower_95", "upper_95", "rows", "with_event"],
        [
            .. risk.Calibration.Groups.Select(g => FlatRow.Of("group", g.Predicted, g.Observed, g.Lower, g.Upper, g.Rows, g.Events)),
            .. risk.Calibration.Predicted.Select((p, i) => FlatRow.Of("curve", p, risk.Calibration.Observed[i], risk.Calibration.Lower[i], risk.Calibration.Upper[i], "", "")),
            .. risk.Calibration.WithEvent.Select((n, i) => FlatRow.Of("bin from", risk.Calibration.BinEdges[i], "", "", "", n + risk.Calibration.WithoutEvent[i], n)),
        ]);
}
