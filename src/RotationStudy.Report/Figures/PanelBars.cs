using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A bar in a panel, from zero.</summary>
/// <param name="At">Middle of the bar on the horizontal axis.</param>
/// <param name="Height">Height on the vertical axis.</param>
/// <param name="Series">Series whose colour it has.</param>
/// <param name="Hidden">Whether its height is not shown since few persons are behind it: an empty bar up to the bound.</param>
internal readonly record struct PanelBar(double At, double Height, int Series, bool Hidden = false);

/// <summary>Bars in a panel.</summary>
internal static class PanelBars
{
    private const double Width = 0.76;

    internal static void Draw(FigurePage page, PlotArea area, ScottPlot.Plot plot, IEnumerable<PanelBar> bars, double step = 1)
    {
        plot.Axes.Bottom.MajorTickStyle.Length = 0;
        foreach (PanelBar bar in bars.Where(b => b.Height > 0))
        {
            SKRect box = new(area.ToX(bar.At - step * Width / 2), area.ToY(bar.Height), area.ToX(bar.At + step * Width / 2), area.ToY(0));
            page.Box(box, bar.Hidden ? null : page.Style.Series(bar.Series), bar.Hidden ? page.Style.Rule : null);
        }
    }

    /// <summary>A share axis from 0 to a little above the largest.</summary>
    internal static AxisScale Shares(double largest)
    {
        AxisScale axis = AxisScale.Linear(0, Math.Clamp(largest * 1.04, 0.05, 1), 4);
        return new AxisScale(0, axis.Max, [.. axis.Ticks.Select(t => new AxisTick(t.At, NumberFormat.Percent(t.At)))]);
    }
}
