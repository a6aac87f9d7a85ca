using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>One plot below the title and its key, its rooms measured from its labels.</summary>
/// <param name="X">Horizontal axis.</param>
/// <param name="Y">Vertical axis.</param>
/// <param name="XLabel">Its label.</param>
/// <param name="YLabel">Label of the vertical axis.</param>
internal sealed record PlotFrame(AxisScale X, AxisScale Y, string XLabel, string YLabel)
{
    /// <summary>Room for tick letters and two lines of label below a plot.</summary>
    internal const float AxisRoom = 40;

    private const float TickGap = 10, KeyGap = 6;

    /// <summary>Height of the plot in print.</summary>
    internal float Height { get; init; } = 220;

    /// <summary>Names of the marks, above the plot.</summary>
    internal MarkKey Key { get; init; } = MarkKey.None;

    /// <summary>Room that something above the plot needs, below the key.</summary>
    internal float Above { get; init; }

    /// <summary>Room that something to the right of the plot needs.</summary>
    internal float Right { get; init; }

    /// <summary>Room that something below the axis label needs.</summary>
    internal float Below { get; init; }

    /// <summary>Narrowest panel where there are several.</summary>
    internal float LeastPanel { get; init; } = 84;

    /// <summary>Room to the left of the axis that something below the plot needs.</summary>
    internal float LeftAtLeast { get; init; }

    /// <summary>Room between axis and axis label that the tick letters need.</summary>
    internal static float TickColumn(AxisScale y)
        => y.Ticks.Select(t => Lettering.Width(t.Label, FigureTheme.TextSize)).DefaultIfEmpty(0).Max() + FigureTheme.TickLength + TickGap;

    /// <summary>A page with title, key, an empty plot and lettered axes.</summary>
    internal (FigurePage Page, PlotArea Area, ScottPlot.Plot Plot) Begin(FigureRequest request, FigureStyle style)
    {
        float width = style.Width - 2 * FigureTheme.Margin;
        float keyTop = FigureTitle.Height(request.Title, width);
        float top = keyTop + Key.Height(width) + (Key.IsEmpty ? 0 : KeyGap) + Above + 4;
        float height = style.PlotHeight(Height, top + AxisRoom + Below);
        FigurePage page = new(style, top + height + AxisRoom + Below);
        FigureTitle.Write(page, request.Title, width);
        Key.Write(page, keyTop, width);
        PlotArea area = AreaAt(style, top, height);
        ScottPlot.Plot plot = area.AddTo(page);
        area.Letter(page, XLabel, YLabel, TickColumn(Y));
        return (page, area, plot);
    }

    /// <summary>The rectangle of a plot of that height, its left and right edges from the labels.</summary>
    internal PlotArea AreaAt(FigureStyle style, float top, float height)
    {
        int lines = Lettering.Wrap(YLabel, FigureTheme.TextSize, height, 2).Length;
        float left = FigureTheme.Margin + Math.Max(LeftAtLeast, TickColumn(Y) + lines * FigureTheme.TextSize * 1.25f);
        float last = X.Ticks.IsEmpty ? 0 : Lettering.Width(X.Ticks[^1].Label, FigureTheme.TextSize) / 2;
        return new PlotArea(new SKRect(left, top, style.Width - FigureTheme.Margin - Math.Max(Right, last), top + height), X, Y);
    }
}
