using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>True against false alarms over all thresholds, a stepped curve per model or sample, with the area under it.</summary>
internal static class RiskDiscriminationFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        RiskPerformance[] risks = [.. RiskWords.All(results, request).Where(r => r.Discrimination.FalseAlarms.Length > 1)];
        if (risks.Length == 0)
            return FigureDrawing.Without(request, style, "There is no prediction to compare with what happened.");
        AxisScale axis = new(-0.01, 1.01, [.. Enumerable.Range(0, 6).Select(i => new AxisTick(i / 5.0, NumberFormat.Percent(i / 5.0)))]);
        PlotFrame frame = new(axis, axis, "False alarms: share of those without the event", "True alarms: share of those with the event")
        {
            Height = 240,
            Key = new MarkKey([
                .. risks.Select((r, i) => new KeyEntry(KeySymbol.Line, i, $"{RiskWords.Name(r, risks)}: area {FigureWords.WithInterval(r.Discrimination.Area, 2)}")),
                new KeyEntry(KeySymbol.Dashed, 0, "chance"),
            ]),
        };
        (FigurePage page, _, ScottPlot.Plot plot) = frame.Begin(request, style);
        plot.Curve([0, 1], [0, 1], style.QuietInk, FigureTheme.AxisWidth, new ScottPlot.LinePattern([3, 2], 0, "dashes"));
        for (int i = 0; i < risks.Length; i++)
            plot.Curve(risks[i].Discrimination.FalseAlarms, risks[i].Discrimination.TrueAlarms, style.Series(i), pattern: FigureTheme.Pattern(i));
        return new FigureDrawing(page, Caption(results.Study, risks), Words(results.Study, request, risks), Data(risks)) { Method = string.Join(" ", risks.Select(r => r.Method).Distinct()) };
    }

    private static string Caption(StudyFacts study, RiskPerformance[] risks)
        => string.Join(" ", risks.Select(r => RiskWords.Who(study, r)
            + $" Area {FigureWords.WithInterval(r.Discrimination.Area, 2)}{(r.Discrimination.CorrectedArea is { } corrected ? $", {NumberFormat.Fixed(corrected, 2)} corrected for optimism" : "")}.")) + $" Areas with 95% intervals. {RiskWords.Caution}";

    private static string Words(StudyFacts study, FigureRequest request, RiskPerformance[] risks)
        => $"{request.Title}. True against false alarms. {Caption(study, risks)}";

    private static FlatTable Data(RiskPerformance[] risks) => new(
        ["model", "sample", "threshold", "false_alarms", "true_alarms"],
        [.. risks.SelectMany(r => r.Discrimination.FalseAlarms.Select((f, i) => FlatRow.Of(
            r.Model, r.Sample, i < r.Discrimination.Thresholds.Length ? r.Discrimination.Thresholds[i] : (double?)null, f, r.Discrimination.TrueAlarms[i])))]);
}
