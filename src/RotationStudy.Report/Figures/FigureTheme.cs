using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The one look of all figures. Lengths are points (1/72 inch) at final size: 170 mm wide, a journal's double column.</summary>
/// <remarks>
/// Series differ in lightness (so they survive a grey copier), in hue (blue, red-brown, green-blue, violet, grey: apart for
/// the common kinds of colour blindness) and in line style or marker shape, so that none rests on colour alone. Lines have a
/// contrast of at least 3 to 1 against white, text at least 7 to 1. No lettering is under 7 points.
/// </remarks>
internal static class FigureTheme
{
    internal const double MillimetresPerPoint = 25.4 / 72;
    internal const int DotsPerInch = 300;

    /// <summary>One dot at print resolution. Pages are whole dots wide and high, else their edge would be half painted.</summary>
    internal const float Dot = 72f / DotsPerInch;

    /// <summary>170 mm in whole dots.</summary>
    internal const float Width = 2008 * Dot;

    internal const float TitleSize = 9.5f, TextSize = 8f, SmallSize = 7f;
    internal const float Margin = 8f, LineHeight = 1.32f;
    internal const float AxisWidth = 0.7f, GridWidth = 0.4f, CurveWidth = 1.3f, TickLength = 3f;

    internal static readonly SKColor Ink = new(0x1e, 0x24, 0x2b);
    internal static readonly SKColor QuietInk = new(0x4a, 0x52, 0x5c);
    internal static readonly SKColor Rule = new(0x80, 0x87, 0x90);
    internal static readonly SKColor Grid = new(0xe3, 0xe6, 0xe9);
    internal static readonly SKColor BoxFill = new(0xf4, 0xf6, 0xf8);
    internal static readonly SKColor Paper = SKColors.White;

    private static readonly SKColor[] SeriesColors =
        [new(0x17, 0x3f, 0x6b), new(0xb8, 0x4a, 0x26), new(0x2f, 0x93, 0x88), new(0x7d, 0x5b, 0xa6), new(0x6b, 0x6f, 0x75)];

    private static readonly float[][] SeriesDashes = [[], [6, 2.5f], [1.4f, 1.8f], [6, 2, 1.4f, 2], [10, 3]];

    internal static SKColor Series(int index) => SeriesColors[index % SeriesColors.Length];

    /// <summary>Line style of a series; with the colour there are 25 different looks before one repeats.</summary>
    internal static float[] Dashes(int index) => SeriesDashes[(index + index / SeriesDashes.Length) % SeriesDashes.Length];

    internal static ScottPlot.LinePattern Pattern(int index)
        => Dashes(index) is { Length: > 0 } dashes ? new(dashes, 0, "dashes") : ScottPlot.LinePattern.Solid;

    internal static ScottPlot.Color ToPlot(this SKColor color, double alpha = 1)
        => new(color.Red, color.Green, color.Blue, (byte)Math.Round(255 * alpha));
}
