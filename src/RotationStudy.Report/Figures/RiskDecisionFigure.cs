using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Net benefit over thresholds: acting on the prediction, on everyone, and on no one.</summary>
internal static class RiskDecisionFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        RiskPerformance[] risks = [.. RiskWords.All(results, request).Where(r => r.Decision.Thresholds.Length > 1)];
        if (risks.Length == 0)
            return FigureDrawing.Without(request, style, "There is no prediction to compare with what happened.");
        double top = risks.Max(r => r.Decision.NetBenefit.Concat(r.Decision.Upper).Concat(r.Decision.ActOnAll).Max());
        // Acting on everyone falls without end; what lies far below nothing needs no room.
        double bottom = Math.Max(-0.4 * Math.Max(top, 0.01), risks.Min(r => r.Decision.NetBenefit.Concat(r.Decision.Lower).Append(-0.1 * top).Min()));
        AxisScale x = AxisScale.Around(risks.Min(r => r.Decision.Thresholds[0]), risks.Max(r => r.Decision.Thresholds[^1]), 6);
        PlotFrame frame = new(
            x with { Ticks = [.. x.Ticks.Select(t => new AxisTick(t.At, NumberFormat.Percent(t.At)))] }, AxisScale.Around(bottom, Math.Max(top, 0.01), 5),
            "Threshold: risk above which one would act", "Net benefit (true alarms per row)")
        {
            Height = 220,
            Key = new MarkKey([
                .. risks.Select((r, i) => new KeyEntry(KeySymbol.Band, i, RiskWords.Name(r, risks))),
                new KeyEntry(KeySymbol.Thin, 0, "act on everyone"), new KeyEntry(KeySymbol.Dashed, 0, "act on no one"),
            ]),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        float none = area.ToY(0);
        page.Line(area.Area.Left, none, area.Area.Right, none, style.QuietInk, FigureTheme.AxisWidth, 3, 2);
        for (int i = 0; i < risks.Length; i++)
            AddCurves(plot, risks[i].Decision, i, style);
        return new FigureDrawing(page, Caption(results.Study, risks), Words(results.Study, request, risks), Data(risks)) { Method = string.Join(" ", risks.Select(r => r.Method).Distinct()) };
    }

    private static void AddCurves(ScottPlot.Plot plot, RiskDecision decision, int series, FigureStyle style)
    {
        plot.Curve(decision.Thresholds, decision.ActOnAll, style.Rule, 1);
        if (decision.Lower.Length == decision.Thresholds.Length)
            plot.Band(decision.Thresholds, decision.Lower, decision.Upper, style.Series(series), 0.13);
        plot.Curve(decision.Thresholds, decision.NetBenefit, style.Series(series), pattern: FigureTheme.Pattern(series));
    }

    private static string Caption(StudyFacts study, RiskPerformance[] risks)
        => $"{string.Join(" ", risks.Select(r => RiskWords.Who(study, r)))} Net benefit: true alarms less false alarms weighed by the odds of the threshold; bands: pointwise 95% intervals. {RiskWords.Caution}";

    private static string Words(StudyFacts study, FigureRequest request, RiskPerformance[] risks)
        => $"{request.Title}. Net benefit over thresholds. " + string.Join(" ", risks.Select(r => $"{RiskWords.Who(study, r)} {Range(r.Decision)}"));

    private static string Range(RiskDecision d)
    {
        int[] better = [.. Enumerable.Range(0, d.Thresholds.Length).Where(i => d.NetBenefit[i] > Math.Max(0, d.ActOnAll[i]))];
        return better.Length == 0
            ? "At no threshold is acting on the prediction better than acting on everyone or on no one."
            : $"Acting on the prediction is better than acting on everyone and on no one at {NumberFormat.Count(better.Length)} of {NumberFormat.Count(d.Thresholds.Length)} thresholds, from {NumberFormat.Percent(d.Thresholds[better[0]])} to {NumberFormat.Percent(d.Thresholds[better[^1]])}.";
    }

    private static FlatTable Data(RiskPerformance[] risks) => new(
        ["model", "sample", "threshold", "net_benefit", "lower_95", "upper_95", "act_on_all"],
        [.. risks.SelectMany(r => r.Decision.Thresholds.Select((t, i) => FlatRow.Of(
            r.Model, r.Sample, t, r.Decision.NetBenefit[i], i < r.Decision.Lower.Length ? r.Decision.Lower[i] : (double?)null, i < r.Decision.Upper.Length ? r.Decision.Upper[i] : (double?)null, r.Decision.ActOnAll[i])))]);
}
