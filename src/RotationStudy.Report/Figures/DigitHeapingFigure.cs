using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Last digits of readings, a panel per rater: readings to one unit would have every digit equally often.</summary>
internal static class DigitHeapingFigure
{
    private const double Even = 0.1;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        ImmutableArray<DigitCounts> parts = [.. results.Values.Digits.Where(d => d.Figure == request.Id && !d.Raters.IsEmpty)];
        if (parts.IsEmpty)
            return FigureDrawing.Without(request, style, "There are no readings.");
        (DigitCounts Part, RaterDigits Rater)[] panels = [.. parts.SelectMany(p => p.Raters.Select(r => (p, r)))];
        PlotFrame frame = new(
            new AxisScale(-0.7, 9.7, [.. Enumerable.Range(0, 10).Select(d => new AxisTick(d, NumberFormat.Brief(d)))]),
            PanelBars.Shares(panels.Max(p => p.Rater.Counts.Max() / (double)Math.Max(1, p.Rater.Counts.Sum()))), "Last digit", "Share of readings")
        {
            Height = 84,
            LeastPanel = 66,
            Key = MarkKey.Of(new(KeySymbol.Box, 1, "0 and 5"), new(KeySymbol.Box, 0, "other digits"), new(KeySymbol.Dashed, 0, "no rounding: 10% each")),
        };
        PanelGrid grid = PanelGrid.Lay(request, style, frame, [.. panels.Select(p => Head(p.Part, p.Rater, parts.Length > 1))]);
        for (int i = 0; i < panels.Length; i++)
        {
            double all = Math.Max(1, panels[i].Rater.Counts.Sum());
            PanelBars.Draw(grid.Page, grid.Panels[i], grid.Plots[i], panels[i].Rater.Counts.Select((n, d) => new PanelBar(d, n / all, d % 5 == 0 ? 1 : 0)));
            float y = grid.Panels[i].ToY(Even);
            grid.Page.Line(grid.Panels[i].Area.Left, y, grid.Panels[i].Area.Right, y, style.QuietInk, FigureTheme.AxisWidth, 3, 2);
        }
        return new FigureDrawing(grid.Page, Caption(parts), Words(request, parts), Data(parts)) { Method = "Last digits of readings as they were taken, those with decimals rounded to the unit; nothing was estimated." };
    }

    private static string Head(DigitCounts part, RaterDigits rater, bool several)
        => $"{(several ? part.Label + ", " : "")}{rater.Rater}\nn = {NumberFormat.Count(rater.Counts.Sum())}";

    private static string Caption(ImmutableArray<DigitCounts> parts)
        => $"{string.Join("; ", parts.Select(p => $"{p.Label}, {NumberFormat.Count(p.Raters.Sum(r => r.Counts.Sum()), "reading", "readings")} by {NumberFormat.Count(p.Raters.Length, "rater", "raters")}"))}. n: readings.";

    private static string Words(FigureRequest request, ImmutableArray<DigitCounts> parts)
        => $"{request.Title}. Share of readings that end in 0 or 5, where even digits would give 20%: "
            + string.Join(" ", parts.SelectMany(p => p.Raters.Select(r =>
                $"{p.Label}, {r.Rater}: {NumberFormat.Percent((r.Counts[0] + r.Counts[5]) / (double)Math.Max(1, r.Counts.Sum()))} of {NumberFormat.Count(r.Counts.Sum())}.")));

    private static FlatTable Data(ImmutableArray<DigitCounts> parts) => new(
        ["reading", "rater", "last_digit", "readings"],
        [.. parts.SelectMany(p => p.Raters.SelectMany(r => r.Counts.Select((n, d) => FlatRow.Of(p.Label, r.Rater, d, n))))]);
}
