using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The one look of all figures: lengths in layout points (<see cref="FigureStyle"/>) and line styles. No lettering is under <see cref="SmallSize"/>.</summary>
internal static class FigureTheme
{
    internal const double MillimetresPerPoint = 25.4 / 72;

    internal const float TitleSize = 9.5f, TextSize = 8f, SmallSize = 7f;
    internal const float Margin = 8f, LineHeight = 1.32f;
    internal const float AxisWidth = 0.7f, GridWidth = 0.4f, CurveWidth = 1.3f, TickLength = 3f;

    private static readonly float[][] SeriesDashes = [[], [6, 2.5f], [1.4f, 1.8f], [6, 2, 1.4f, 2], [10, 3]];

    /// <summary>Line style of a series; with the colour there are 25 different looks before one repeats.</summary>
    internal static float[] Dashes(int index) => SeriesDashes[(index + index / SeriesDashes.Length) % SeriesDashes.Length];

    internal static ScottPlot.LinePattern Pattern(int index)
        => Dashes(index) is { Length: > 0 } dashes ? new(dashes, 0, "dashes") : ScottPlot.LinePattern.Solid;

    internal static ScottPlot.Color ToPlot(this SKColor color, double alpha = 1)
        => new(color.Red, color.Green, color.Blue, (byte)Math.Round(255 * alpha));
}
