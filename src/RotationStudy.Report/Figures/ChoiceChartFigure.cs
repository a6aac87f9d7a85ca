using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>One estimate under every combination of choices, smallest first; below, one row per option with a mark where it was taken.</summary>
/// <remarks>
/// A combination whose interval includes no association has a hollow mark in grey, so the reading does not rest on colour;
/// the planned one stands on a line through the whole chart. An interval that runs off the axis ends at its edge.
/// </remarks>
internal static class ChoiceChartFigure
{
    private const float PlotHeight = 190, OptionHeight = 10.5f, DecisionGap = 5, LabelShare = 0.27f, NarrowLabelShare = 0.42f, TickColumn = 30;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        ChoiceGarden? garden = results.Gardens.FirstOrDefault(g => request.Questions.Contains(g.Question));
        if (garden is null)
            return FigureDrawing.Without(request, style, "The plan lists no choices for this question.");
        ImmutableArray<ChoiceFit> ordered = ChoiceChartWords.Ordered(garden);
        if (ordered.IsEmpty)
            return FigureDrawing.Without(request, style, "No combination of choices could be fitted.");
        float width = style.Width - 2 * FigureTheme.Margin;
        float top = FigureTitle.Height(request.Title, width) + 4;
        float optionsHeight = garden.Decisions.Sum(d => DecisionGap + (1 + d.Options.Length) * OptionHeight);
        float plotHeight = style.PlotHeight(PlotHeight, top + 8 + optionsHeight + FigureTheme.Margin);
        float optionsTop = top + plotHeight + 8;
        FigurePage page = new(style, optionsTop + optionsHeight + FigureTheme.Margin);
        FigureTitle.Write(page, request.Title, width);
        PlotArea area = new(
            new SKRect(FigureTheme.Margin + width * (style.IsNarrow ? NarrowLabelShare : LabelShare), top, style.Width - FigureTheme.Margin, top + plotHeight),
            new AxisScale(-1, ordered.Length, []), Axis(garden, ordered));
        area.AddTo(page).Axes.Bottom.IsVisible = false;
        area.Letter(page, string.Empty, $"{garden.Label}: {garden.Scale}{(garden.NoEffect == 1 ? " (logarithmic axis)" : garden.Unit is null ? "" : $" ({garden.Unit})")}", TickColumn);
        DrawPlanned(page, area, ordered, optionsTop + optionsHeight);
        DrawFits(page, area, garden, ordered);
        DrawOptions(page, area, garden, ordered, optionsTop);
        return new FigureDrawing(page, ChoiceChartWords.Caption(garden), ChoiceChartWords.AlternativeText(request, garden), ChoiceChartWords.Data(garden))
        {
            Method = "The planned model fitted anew under every combination of the options that the plan lists, fixed before the data were opened.",
        };
    }

    private static AxisScale Axis(ChoiceGarden garden, ImmutableArray<ChoiceFit> ordered)
    {
        double[] values = [garden.NoEffect, .. ordered.Select(f => f.Estimate!.Value).Where(double.IsFinite)];
        double[] lower = [.. ordered.Select(f => f.Estimate!.Lower).Where(double.IsFinite)];
        double[] upper = [.. ordered.Select(f => f.Estimate!.Upper).Where(double.IsFinite)];
        if (garden.NoEffect != 1)
            return AxisScale.Linear(lower.Append(values.Min()).Min(), upper.Append(values.Max()).Max(), 6);
        const double longestReach = 4;
        double least = Math.Max(values.Where(v => v > 0).Min() / longestReach, lower.Where(v => v > 0).Append(0.9).Min());
        double most = Math.Min(values.Max() * longestReach, upper.Append(1.1).Max());
        return AxisScale.Logarithmic(least / 1.05, most * 1.05);
    }

    private static double Place(ChoiceGarden garden, PlotArea area, double value)
        => Math.Clamp(garden.NoEffect != 1 ? value : value > 0 ? Math.Log10(value) : double.NegativeInfinity, area.Y.Min, area.Y.Max);

    private static void DrawPlanned(FigurePage page, PlotArea area, ImmutableArray<ChoiceFit> ordered, float bottom)
    {
        int planned = ordered.ToList().FindIndex(f => f.Options.All(o => o == 0));
        if (planned < 0)
            return;
        float x = area.ToX(planned);
        page.Line(x, area.Area.Top, x, bottom, page.Style.QuietInk, FigureTheme.AxisWidth, 1.5f, 2);
        bool left = planned > ordered.Length / 2;
        page.Write("planned", x + (left ? -3 : 3), area.Area.Top + FigureTheme.SmallSize, FigureTheme.SmallSize, left ? TextAnchor.End : TextAnchor.Start, page.Style.QuietInk);
    }

    private static void DrawFits(FigurePage page, PlotArea area, ChoiceGarden garden, ImmutableArray<ChoiceFit> ordered)
    {
        float none = area.ToY(Place(garden, area, garden.NoEffect));
        page.Line(area.Area.Left, none, area.Area.Right, none, page.Style.QuietInk, FigureTheme.AxisWidth, 3, 2);
        float step = area.Area.Width / (ordered.Length + 1), half = Math.Clamp(step * 0.4f, 0.6f, 2.2f);
        for (int i = 0; i < ordered.Length; i++)
        {
            ChoiceEstimate estimate = ordered[i].Estimate!;
            bool clear = estimate.Lower > garden.NoEffect || estimate.Upper < garden.NoEffect;
            SKColor ink = clear ? page.Style.Series(0) : page.Style.Rule;
            float x = area.ToX(i), y = area.ToY(Place(garden, area, estimate.Value));
            page.Line(x, area.ToY(Place(garden, area, estimate.Lower)), x, area.ToY(Place(garden, area, estimate.Upper)), ink, Math.Clamp(step * 0.25f, 0.3f, 1f));
            SKRect mark = new(x - half, y - half, x + half, y + half);
            page.Box(mark, clear ? ink : page.Style.Paper, ink);
        }
    }

    private static void DrawOptions(FigurePage page, PlotArea area, ChoiceGarden garden, ImmutableArray<ChoiceFit> ordered, float y)
    {
        float step = area.Area.Width / (ordered.Length + 1), half = Math.Clamp(step * 0.4f, 0.5f, 3f);
        float room = area.Area.Left - FigureTheme.Margin - 14;
        for (int d = 0; d < garden.Decisions.Length; d++)
        {
            y += DecisionGap;
            page.WriteLines(Lettering.Wrap(garden.Decisions[d].Name, FigureTheme.SmallSize, room, 1, bold: true), FigureTheme.Margin, y + FigureTheme.SmallSize, FigureTheme.SmallSize, bold: true);
            page.Line(FigureTheme.Margin, y, area.Area.Right, y, page.Style.Grid, FigureTheme.GridWidth);
            y += OptionHeight;
            for (int o = 0; o < garden.Decisions[d].Options.Length; o++)
            {
                string label = garden.Decisions[d].Options[o].Label + (o == 0 ? " (planned)" : "");
                page.WriteLines(Lettering.Wrap(label, FigureTheme.SmallSize, room, 1), FigureTheme.Margin + 8, y + FigureTheme.SmallSize, FigureTheme.SmallSize);
                for (int i = 0; i < ordered.Length; i++)
                {
                    if (ordered[i].Options[d] == o)
                        page.Box(new SKRect(area.ToX(i) - half, y + 1.5f, area.ToX(i) + half, y + OptionHeight - 2), page.Style.Series(0));
                }
                y += OptionHeight;
            }
        }
    }
}
