using ScottPlot;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The mark of each series: shape and filling differ as well as colour, in the plot and in its key.</summary>
internal static class SeriesMark
{
    private const int Shapes = 4, Many = 1500;

    /// <summary>One mark on the page.</summary>
    internal static void Draw(FigurePage page, int series, float x, float y, SKColor color, float radius = 2.4f)
    {
        switch (Math.Max(0, series) % Shapes)
        {
            case 0:
                page.Disc(x, y, radius, color);
                break;
            case 1:
                page.Outline(color, 0.9f, new(x, y - radius * 1.2f), new(x - radius * 1.2f, y + radius), new(x + radius * 1.2f, y + radius));
                break;
            case 2:
                page.Box(new SKRect(x - radius * 0.9f, y - radius * 0.9f, x + radius * 0.9f, y + radius * 0.9f), color);
                break;
            default:
                page.Outline(color, 0.9f, new(x, y - radius * 1.3f), new(x + radius * 1.3f, y), new(x, y + radius * 1.3f), new(x - radius * 1.3f, y));
                break;
        }
    }

    /// <summary>The points of a series; many of them are smaller and let more light through.</summary>
    internal static void Add(Plot plot, int series, SKColor ink, double[] x, double[] y, int ofAll, double alpha = 0.6)
    {
        if (x.Length == 0)
            return;
        bool many = ofAll > Many;
        MarkerStyle mark = plot.Add.Markers(x, y).MarkerStyle;
        bool filled = series % 2 == 0;
        ScottPlot.Color color = ink.ToPlot(many ? alpha / 2 : alpha);
        mark.Shape = (series % Shapes) switch { 0 => MarkerShape.FilledCircle, 1 => MarkerShape.OpenTriangleUp, 2 => MarkerShape.FilledSquare, _ => MarkerShape.OpenDiamond };
        mark.Size = (filled ? 3.8f : 4.8f) * (many ? 0.7f : 1);
        mark.FillColor = color;
        mark.LineColor = color;
        mark.LineWidth = filled ? 0 : 0.7f;
    }
}
