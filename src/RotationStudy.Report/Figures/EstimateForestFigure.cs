using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Estimates of the exposures with their intervals, grouped by question; ratios on a logarithmic axis.</summary>
/// <remarks>
/// One axis carries one kind of number: ratios where there are any, else differences of one unit. Estimates of another kind,
/// and questions without an answer, keep their line as text, so that none is lost. An interval that runs off the axis ends in an arrow.
/// </remarks>
internal static class EstimateForestFigure
{
    private const float RowHeight = 15, HeadHeight = 19, AxisRoom = 42, ColumnGap = 12, LabelShare = 0.34f, NarrowLabelShare = 0.55f, MarkSize = 5;

    private const string NumbersHead = "Estimate (95% interval)";

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        ImmutableArray<QuestionResult> questions = request.Questions.IsEmpty
            ? results.Questions
            : [.. request.Questions.SelectMany(id => results.Questions.Where(q => q.Id == id))];
        if (questions.All(q => ForestRows.Exposures(q).IsEmpty))
            return FigureDrawing.Without(request, style, "None of the questions has an estimate to draw.");
        ForestScale scale = ForestScale.Of(questions, request.Across);
        FigurePage page = Lay(request, style, questions, scale, "Question and exposure");
        return new FigureDrawing(page, ForestWords.Caption(scale, results.Study, questions), ForestWords.AlternativeText(request, questions), ForestWords.Data(questions))
        {
            Method = ForestWords.Method(questions),
        };
    }

    /// <summary>The page of a forest: a heading per question, a line per exposure.</summary>
    internal static FigurePage Lay(FigureRequest request, FigureStyle style, ImmutableArray<QuestionResult> questions, ForestScale scale, string head)
    {
        float width = style.Width - 2 * FigureTheme.Margin;
        float labels = width * (style.IsNarrow ? NarrowLabelShare : LabelShare);
        ForestRows forest = ForestRows.Of(questions, labels - 8, numbersBelow: style.IsNarrow);
        float top = FigureTitle.Height(request.Title, width) + HeadHeight;
        float bottom = top + forest.Lines.Sum(Height);
        float numbers = style.IsNarrow ? 0 : Math.Max(
            forest.Lines.Max(l => Lettering.Width(l.Numbers, FigureTheme.TextSize)), Lettering.Width(NumbersHead, FigureTheme.TextSize, bold: true));
        float right = style.Width - FigureTheme.Margin - numbers - ColumnGap;
        PlotArea area = new(new SKRect(FigureTheme.Margin + labels, top, right, bottom), scale.Axis, new AxisScale(0, 1, []));
        ImmutableArray<string> axisLabel = AxisLabel(scale, area, style);
        FigurePage page = new(style, bottom + AxisRoom + Math.Max(0, axisLabel.Length - 2) * FigureTheme.TextSize * FigureTheme.LineHeight);
        FigureTitle.Write(page, request.Title, width);
        page.WriteLines(axisLabel, area.Area.MidX, bottom + 26, anchor: TextAnchor.Middle);
        ScottPlot.Plot plot = area.AddTo(page, leftAxis: false);
        plot.Grid.IsVisible = false;
        WriteFrame(page, area, scale, right + ColumnGap, head);
        DrawLines(page, area, scale, forest, right + ColumnGap);
        return page;
    }

    private static float Height(ForestLine line)
        => Math.Max(RowHeight, line.Label.Length * FigureTheme.TextSize * 1.25f + 5) + (line.IsHeading ? 4 : 0);

    private static void WriteFrame(FigurePage page, PlotArea area, ForestScale scale, float numbersLeft, string headWords)
    {
        float head = area.Area.Top - 6;
        page.Write(headWords, FigureTheme.Margin, head, color: page.Style.QuietInk, bold: true);
        if (!page.Style.IsNarrow)
            page.Write(NumbersHead, numbersLeft, head, color: page.Style.QuietInk, bold: true);
        page.Line(FigureTheme.Margin, area.Area.Top, page.Style.Width - FigureTheme.Margin, area.Area.Top, page.Style.Rule, FigureTheme.GridWidth);
        float none = area.ToX(scale.ToAxis(scale.NoEffect));
        page.Line(none, area.Area.Top, none, area.Area.Bottom, page.Style.QuietInk, FigureTheme.AxisWidth, 3, 2);
        float previous = float.MinValue;
        foreach (AxisTick tick in scale.Axis.Ticks)
        {
            float x = area.ToX(tick.At), half = Lettering.Width(tick.Label, FigureTheme.TextSize) / 2;
            if (x - half < previous + 4)
                continue;
            page.Write(tick.Label, x, area.Area.Bottom + FigureTheme.TickLength + 2 + FigureTheme.TextSize, anchor: TextAnchor.Middle);
            previous = x + half;
        }
    }

    /// <summary>What the axis says, as wide as the page allows around the middle of the plot.</summary>
    private static ImmutableArray<string> AxisLabel(ForestScale scale, PlotArea area, FigureStyle style)
    {
        float room = 2 * (style.Width - FigureTheme.Margin - area.Area.MidX);
        return Lettering.Wrap(scale.Label, FigureTheme.TextSize, Math.Min(area.Area.Width + 40, room), 4);
    }

    private static void DrawLines(FigurePage page, PlotArea area, ForestScale scale, ForestRows forest, float numbersLeft)
    {
        float y = area.Area.Top;
        foreach (ForestLine line in forest.Lines)
        {
            float height = Height(line), step = FigureTheme.TextSize * 1.25f;
            float first = y + (line.IsHeading ? 4 : 0) + (height - (line.IsHeading ? 4 : 0) - line.Label.Length * step) / 2 + 0.82f * step;
            for (int i = 0; i < line.Label.Length; i++)
                page.Write(line.Label[i], FigureTheme.Margin + (line.IsHeading ? 0 : 8), first + i * step, bold: line.IsHeading, color: line.IsNote ? page.Style.QuietInk : null);
            float middle = first + (line.Label.Length - 1) * step / 2 - 0.35f * FigureTheme.TextSize;
            if (line.Numbers.Length > 0)
                page.Write(line.Numbers, numbersLeft, middle + 0.35f * FigureTheme.TextSize);
            if (line.Estimate is { } estimate && scale.Holds(estimate))
                DrawInterval(page, area, scale, estimate, middle);
            y += height;
        }
    }

    private static void DrawInterval(FigurePage page, PlotArea area, ForestScale scale, EstimateRow estimate, float y)
    {
        SKColor ink = page.Style.Series(0);
        double lower = scale.ToAxis(estimate.Lower), upper = scale.ToAxis(estimate.Upper), value = scale.ToAxis(estimate.Value);
        float x = area.ToX(Math.Clamp(value, scale.Axis.Min, scale.Axis.Max));
        DrawEnd(page, x, area.ToX(Math.Max(lower, scale.Axis.Min)), y, lower < scale.Axis.Min, ink);
        DrawEnd(page, x, area.ToX(Math.Min(upper, scale.Axis.Max)), y, upper > scale.Axis.Max, ink);
        if (value >= scale.Axis.Min && value <= scale.Axis.Max)
            page.Box(new SKRect(x - MarkSize / 2, y - MarkSize / 2, x + MarkSize / 2, y + MarkSize / 2), ink);
    }

    private static void DrawEnd(FigurePage page, float from, float to, float y, bool runsOff, SKColor ink)
    {
        if (runsOff && Math.Abs(to - from) > 1)
        {
            page.Arrow(from, y, to, y, ink, 1.1f, 6);
            return;
        }
        page.Line(from, y, to, y, ink, 1.1f);
        page.Line(to, y - 2.2f, to, y + 2.2f, ink, 1.1f);
    }
}
