using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Difference against mean of two readings, a panel per pair: bias and limits of agreement as lines, their intervals as bands.</summary>
internal static class AgreementLimitsFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult[] questions = [.. results.Questions.Where(q => request.Questions.Contains(q.Id) && q.Agreement is not null)];
        (LimitsLine Line, string? Unit)[] pairs = [.. questions.SelectMany(q => q.Agreement!.Limits.Where(l => !l.Means.IsEmpty && l.Group == "all").Select(l => (l, q.Agreement.Unit)))];
        if (pairs.Length == 0)
            return FigureDrawing.Without(request, style, "No two readings of one subject can be compared.");
        LimitsLine[] lines = [.. pairs.Select(p => p.Line)];
        string unit = pairs[0].Unit is { } u ? $" ({u})" : "";
        double[] heights = [0, .. lines.SelectMany(l => l.Differences.Append(l.LowerLower).Append(l.UpperUpper))];
        PlotFrame frame = new(
            AxisScale.Around(lines.Min(l => l.Means.Min()), lines.Max(l => l.Means.Max()), style.IsNarrow || lines.Length > 1 ? 4 : 7), AxisScale.Around(heights.Min(), heights.Max(), 5),
            $"Mean of the two{unit}", $"Difference{unit}")
        {
            LeastPanel = 104,
            Height = lines.Length == 1 ? 220 : 120,
            Key = MarkKey.Of(new(KeySymbol.Line, 0, "mean difference"), new(KeySymbol.Line, 1, "95% limits"), new(KeySymbol.Box, FigureStyle.QuietSeries, "their 95% intervals")),
        };
        PanelGrid grid = PanelGrid.Lay(request, style, frame, [.. pairs.Select(p => Head(p.Line, p.Unit))]);
        for (int i = 0; i < lines.Length; i++)
            DrawPanel(grid.Page, grid.Panels[i], grid.Plots[i], lines[i]);
        return new FigureDrawing(grid.Page, Caption(results.Study, questions, lines), Words(request, pairs), Data(lines))
        {
            Method = "Limits of agreement by mean and standard deviation of the differences, several pairs of one subject kept together, with 95% intervals of bias and limits (Bland and Altman).",
        };
    }

    private static string Head(LimitsLine l, string? unit) => $"{l.First} minus {l.Second}\n{Numbers(l)}{(unit is null ? "" : " " + unit)}, n = {NumberFormat.Count(l.Pairs)}";

    private static string Numbers(LimitsLine l) => $"{NumberFormat.Fixed(l.Bias, 1)} ({NumberFormat.Fixed(l.Lower, 1)} to {NumberFormat.Fixed(l.Upper, 1)})";

    private static void DrawPanel(FigurePage page, PlotArea area, ScottPlot.Plot plot, LimitsLine l)
    {
        FigureStyle style = page.Style;
        double[] ends = [area.X.Min, area.X.Max];
        plot.Grid.IsVisible = false;
        foreach ((double low, double high) in new[] { (l.BiasLower, l.BiasUpper), (l.LowerLower, l.LowerUpper), (l.UpperLower, l.UpperUpper) })
            plot.Band(ends, [low, low], [high, high], style.QuietInk, PlotMarks.BandAlpha);
        SeriesMark.Add(plot, 0, style.Series(0), [.. l.Means], [.. l.Differences], l.Means.Length * 3, 0.5);
        plot.Curve(ends, [0, 0], style.Rule, FigureTheme.GridWidth);
        plot.Curve(ends, [l.Bias, l.Bias], style.Series(0));
        plot.Curve(ends, [l.Lower, l.Lower], style.Series(1), pattern: FigureTheme.Pattern(1));
        plot.Curve(ends, [l.Upper, l.Upper], style.Series(1), pattern: FigureTheme.Pattern(1));
    }

    private static string Caption(StudyFacts study, QuestionResult[] questions, LimitsLine[] lines)
        => $"{string.Join(" ", questions.Select(q => FigureWords.PeopleSentence(study, q.Counts)))} Above each panel: mean difference and 95% limits of agreement; "
            + (lines.Any(l => l.Pairs > l.Participants) ? $"both sides of a {study.ParticipantOne} are pairs of one subject." : "one pair per subject.");

    private static string Words(FigureRequest request, (LimitsLine Line, string? Unit)[] pairs)
        => $"{request.Title}. Differences of two readings against their mean. "
            + string.Join(" ", pairs.Select(p => $"{p.Line.First} minus {p.Line.Second}: mean {NumberFormat.Fixed(p.Line.Bias, 1)} (95% interval {NumberFormat.Fixed(p.Line.BiasLower, 1)} to {NumberFormat.Fixed(p.Line.BiasUpper, 1)}), "
                + $"limits {NumberFormat.Fixed(p.Line.Lower, 1)} to {NumberFormat.Fixed(p.Line.Upper, 1)}{(p.Unit is { } u ? " " + u : "")}, {NumberFormat.Count(p.Line.Pairs, "pair", "pairs")}."));

    private static FlatTable Data(LimitsLine[] lines) => new(
        ["kind", "first", "second", "mean", "difference", "lower_95", "upper_95"],
        [
            .. lines.SelectMany(l => ImmutableArray.Create(
                FlatRow.Of("bias", l.First, l.Second, "", l.Bias, l.BiasLower, l.BiasUpper),
                FlatRow.Of("lower limit", l.First, l.Second, "", l.Lower, l.LowerLower, l.LowerUpper),
                FlatRow.Of("upper limit", l.First, l.Second, "", l.Upper, l.UpperLower, l.UpperUpper))),
            .. lines.SelectMany(l => l.Means.Select((m, i) => FlatRow.Of("pair", l.First, l.Second, m, l.Differences[i], "", ""))),
        ]);
}
