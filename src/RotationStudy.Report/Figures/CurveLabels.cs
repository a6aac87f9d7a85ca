using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Group names beside the ends of their curves, moved apart where they would touch, each tied to its curve by a thin line.</summary>
internal static class CurveLabels
{
    private const float LongestLabel = 100, NarrowLabel = 44, Leader = 12, LineStep = FigureTheme.TextSize * 1.2f, Sample = 14;

    /// <summary>Room to the right of the plot; none for a single unnamed group.</summary>
    internal static float Room(ImmutableArray<EventFreeCurve> curves, FigureStyle style)
    {
        float[] widths = [.. curves.Where(c => c.Group.Length > 0).SelectMany(c => Lines(c, style)).Select(l => Lettering.Width(l, FigureTheme.TextSize))];
        return widths.Length == 0 ? 0 : widths.Max() + Leader + Sample + 5;
    }

    /// <summary>Height that the labels need below each other.</summary>
    internal static float Height(ImmutableArray<EventFreeCurve> curves, FigureStyle style)
        => curves.Where(c => c.Group.Length > 0).Sum(c => Lines(c, style).Length * LineStep + 1);

    internal static void Write(FigurePage page, PlotArea area, ImmutableArray<EventFreeCurve> curves)
    {
        int[] order = [.. Enumerable.Range(0, curves.Length).Where(i => curves[i].Group.Length > 0).OrderByDescending(i => curves[i].Share[^1]).ThenBy(i => i)];
        float[] heights = [.. order.Select(i => Lines(curves[i], page.Style).Length * LineStep)];
        float[] tops = Spread([.. order.Select((i, k) => area.ToY(curves[i].Share[^1]) - heights[k] / 2)], heights, area.Area.Top, area.Area.Bottom);
        for (int k = 0; k < order.Length; k++)
        {
            EventFreeCurve curve = curves[order[k]];
            float end = area.ToX(CurveSteps.End(curve)), x = area.Area.Right + Leader;
            float middle = tops[k] + heights[k] / 2;
            page.Line(end + 1, area.ToY(curve.Share[^1]), x - 1, middle, page.Style.Rule, FigureTheme.GridWidth);
            page.Line(x, middle, x + Sample, middle, page.Style.Series(order[k]), FigureTheme.CurveWidth, FigureTheme.Dashes(order[k]));
            ImmutableArray<string> lines = Lines(curve, page.Style);
            for (int line = 0; line < lines.Length; line++)
                page.Write(lines[line], x + Sample + 4, tops[k] + (line + 0.8f) * LineStep, color: page.Style.Series(order[k]));
        }
    }

    /// <summary>Moves boxes down where they would touch, then up where they would leave the plot.</summary>
    private static float[] Spread(float[] tops, float[] heights, float top, float bottom)
    {
        for (int i = 0; i < tops.Length; i++)
            tops[i] = Math.Max(tops[i], i == 0 ? top - heights[0] / 2 : tops[i - 1] + heights[i - 1] + 1);
        for (int i = tops.Length - 1; i >= 0; i--)
            tops[i] = Math.Min(tops[i], i == tops.Length - 1 ? bottom - heights[i] : tops[i + 1] - heights[i] - 1);
        return tops;
    }

    private static ImmutableArray<string> Lines(EventFreeCurve curve, FigureStyle style)
        => Lettering.Wrap(curve.Group, FigureTheme.TextSize, style.IsNarrow ? NarrowLabel : LongestLabel, 3);
}
