using ScottPlot.TickGenerators;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The rectangle that a plot's data fill, with its axes: turns coordinates into points on the page and sets up ScottPlot to agree.</summary>
/// <param name="Area">The rectangle on the page, in points.</param>
/// <param name="X">Horizontal axis.</param>
/// <param name="Y">Vertical axis.</param>
internal sealed record PlotArea(SKRect Area, AxisScale X, AxisScale Y)
{
    private const float TickRoom = FigureTheme.TickLength + 2 + FigureTheme.TextSize;

    internal float ToX(double x) => (float)(Area.Left + (x - X.Min) / (X.Max - X.Min) * Area.Width);

    internal float ToY(double y) => (float)(Area.Bottom - (y - Y.Min) / (Y.Max - Y.Min) * Area.Height);

    /// <summary>A plot with these axes, ticks without letters, placed on the page.</summary>
    internal ScottPlot.Plot AddTo(FigurePage page, bool leftAxis = true, bool grid = true)
    {
        ScottPlot.Plot plot = new();
        plot.Layout.Fixed(new ScottPlot.PixelPadding(Area.Left, page.Width - Area.Right, page.Height - Area.Bottom, Area.Top));
        plot.Axes.SetLimits(X.Min, X.Max, Y.Min, Y.Max);
        plot.FigureBackground.Color = page.Style.Paper.ToPlot();
        plot.DataBackground.Color = page.Style.Paper.ToPlot();
        plot.Axes.Right.IsVisible = false;
        plot.Axes.Top.IsVisible = false;
        plot.Axes.Left.IsVisible = leftAxis;
        plot.Grid.IsVisible = grid;
        plot.Grid.MajorLineColor = page.Style.Grid.ToPlot();
        plot.Grid.MajorLineWidth = FigureTheme.GridWidth;
        Dress(plot.Axes.Bottom, X, page.Style);
        Dress(plot.Axes.Left, Y, page.Style);
        page.Add(plot);
        return plot;
    }

    /// <summary>Letters the ticks and names both axes.</summary>
    internal void Letter(FigurePage page, string xLabel, string yLabel, float tickColumn)
    {
        LetterX(page);
        LetterY(page);
        page.WriteLines(
            Lettering.Wrap(xLabel, FigureTheme.TextSize, Area.Width, 2),
            Area.MidX, Area.Bottom + TickRoom + FigureTheme.TextSize * 1.6f, anchor: TextAnchor.Middle);
        var lines = Lettering.Wrap(yLabel, FigureTheme.TextSize, Area.Height, 2);
        for (int i = 0; i < lines.Length; i++)
        {
            float x = Area.Left - tickColumn - (lines.Length - 1 - i) * FigureTheme.TextSize * 1.25f;
            page.Write(lines[i], x, Area.MidY, anchor: TextAnchor.Middle, upward: true);
        }
    }

    /// <summary>Letters the ticks of the horizontal axis, leaving out those that would touch their neighbour.</summary>
    internal void LetterX(FigurePage page)
    {
        float end = float.MinValue;
        foreach (AxisTick tick in X.Ticks)
        {
            float half = Lettering.Width(tick.Label, FigureTheme.TextSize) / 2, x = ToX(tick.At);
            if (x - half < end + 3 || x + half > page.Width)
                continue;
            page.Write(tick.Label, x, Area.Bottom + TickRoom, anchor: TextAnchor.Middle);
            end = x + half;
        }
    }

    /// <summary>Letters the ticks of the vertical axis, leaving out those that would touch their neighbour.</summary>
    internal void LetterY(FigurePage page)
    {
        float top = float.MaxValue;
        foreach (AxisTick tick in Y.Ticks)
        {
            float y = ToY(tick.At);
            if (y + FigureTheme.TextSize * 1.1f > top)
                continue;
            page.Write(tick.Label, Area.Left - FigureTheme.TickLength - 3, y + 0.35f * FigureTheme.TextSize, anchor: TextAnchor.End);
            top = y;
        }
    }

    private static void Dress(ScottPlot.IAxis axis, AxisScale scale, FigureStyle style)
    {
        double[] at = [.. scale.Ticks.Select(t => t.At)];
        axis.TickGenerator = new NumericManual(at, [.. at.Select(_ => "")]);
        axis.MajorTickStyle.Length = FigureTheme.TickLength;
        axis.MajorTickStyle.Width = FigureTheme.AxisWidth;
        axis.MajorTickStyle.Color = style.Rule.ToPlot();
        axis.FrameLineStyle.Width = FigureTheme.AxisWidth;
        axis.FrameLineStyle.Color = style.Rule.ToPlot();
    }
}
