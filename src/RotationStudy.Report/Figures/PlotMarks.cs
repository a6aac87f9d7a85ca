using ScottPlot;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Lines and bands in a plot, in the one look of all figures.</summary>
internal static class PlotMarks
{
    internal const double BandAlpha = 0.18;

    internal static void Band(this Plot plot, IEnumerable<double> x, IEnumerable<double> lower, IEnumerable<double> upper, SKColor ink, double alpha = BandAlpha)
    {
        double[] at = [.. x];
        if (at.Length < 2)
            return;
        ScottPlot.Plottables.FillY band = plot.Add.FillY(at, [.. lower], [.. upper]);
        band.FillColor = ink.ToPlot(alpha);
        band.LineStyle.IsVisible = false;
        band.MarkerStyle.IsVisible = false;
    }

    internal static void Curve(
        this Plot plot, IEnumerable<double> x, IEnumerable<double> y, SKColor ink, float width = FigureTheme.CurveWidth, LinePattern? pattern = null, double alpha = 1)
    {
        double[] at = [.. x];
        if (at.Length < 2)
            return;
        ScottPlot.Plottables.Scatter line = plot.Add.ScatterLine(at, [.. y]);
        line.LineWidth = width;
        line.LinePattern = pattern ?? LinePattern.Solid;
        line.Color = ink.ToPlot(alpha);
    }
}
