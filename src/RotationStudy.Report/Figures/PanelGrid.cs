using System.Collections.Immutable;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Panels in rows and columns that share both axes; ticks are lettered at the left and at the bottom only.</summary>
/// <param name="Page">The page.</param>
/// <param name="Panels">One area per panel.</param>
/// <param name="Plots">Its plot.</param>
internal sealed record PanelGrid(FigurePage Page, ImmutableArray<PlotArea> Panels, ImmutableArray<ScottPlot.Plot> Plots)
{
    private const float Gap = 10, LeastHeight = 38, HeadStep = FigureTheme.SmallSize * 1.25f;

    /// <summary>Lays a page with title, key, and a panel under each head.</summary>
    /// <param name="request">The figure.</param>
    /// <param name="style">Its style.</param>
    /// <param name="frame">Axes, labels, key, and the height of one panel in print.</param>
    /// <param name="heads">Head of each panel; what follows a line end is never cut for the sake of what stands before it.</param>
    internal static PanelGrid Lay(FigureRequest request, FigureStyle style, PlotFrame frame, ImmutableArray<string> heads)
    {
        float width = style.Width - 2 * FigureTheme.Margin;
        float keyTop = FigureTitle.Height(request.Title, width), top = keyTop + frame.Key.Height(width) + (frame.Key.IsEmpty ? 0 : 4);
        float left = FigureTheme.Margin + PlotFrame.TickColumn(frame.Y) + 2 * FigureTheme.TextSize * 1.25f, right = style.Width - FigureTheme.Margin - 8;
        int columns = Math.Clamp((int)((right - left + Gap) / (frame.LeastPanel + Gap)), 1, Math.Min(heads.Length, heads.Length == 4 ? 2 : 4));
        int rows = (heads.Length + columns - 1) / columns;
        float wide = (right - left - Gap * (columns - 1)) / columns;
        ImmutableArray<ImmutableArray<string>> titles = [.. heads.Select(h => Head(h, wide))];
        float[] headRoom = [.. Enumerable.Range(0, rows).Select(r => titles.Skip(r * columns).Take(columns).Max(t => t.Length) * HeadStep + 3)];
        float rest = top + headRoom.Sum() + Gap * (rows - 1) + PlotFrame.AxisRoom;
        float high = Math.Max(LeastHeight, style.PlotHeight(frame.Height * rows, rest) / rows);
        FigurePage page = new(style, rest + high * rows);
        FigureTitle.Write(page, request.Title, width);
        frame.Key.Write(page, keyTop, width);
        List<PlotArea> panels = [];
        float y = top;
        for (int i = 0; i < heads.Length; i++)
        {
            if (i > 0 && i % columns == 0)
                y += headRoom[i / columns - 1] + high + Gap;
            float x = left + i % columns * (wide + Gap), head = headRoom[i / columns];
            WriteHead(page, heads[i], wide, x, y + head - 4);
            panels.Add(new PlotArea(new SKRect(x, y + head, x + wide, y + head + high), frame.X, frame.Y));
        }
        ImmutableArray<ScottPlot.Plot> plots = [.. panels.Select(p => p.AddTo(page))];
        Letter(page, frame, panels, columns, new SKRect(left, top, right, y + headRoom[^1] + high));
        return new PanelGrid(page, [.. panels], plots);
    }

    private static ImmutableArray<string> Head(string head, float width)
        => [.. head.Split('\n').SelectMany((part, i) => Lettering.Wrap(part, FigureTheme.SmallSize, width, i == 0 ? 3 : 2, bold: i == 0))];

    private static void WriteHead(FigurePage page, string head, float width, float x, float last)
    {
        int names = Lettering.Wrap(head.Split('\n')[0], FigureTheme.SmallSize, width, 3, bold: true).Length;
        ImmutableArray<string> lines = Head(head, width);
        for (int i = 0; i < lines.Length; i++)
            page.Write(lines[i], x, last - (lines.Length - 1 - i) * HeadStep, FigureTheme.SmallSize, bold: i < names);
    }

    private static void Letter(FigurePage page, PlotFrame frame, List<PlotArea> panels, int columns, SKRect all)
    {
        for (int i = 0; i < panels.Count; i++)
        {
            if (i + columns >= panels.Count)
                panels[i].LetterX(page);
            if (i % columns == 0)
                panels[i].LetterY(page);
        }
        page.WriteLines(Lettering.Wrap(frame.XLabel, FigureTheme.TextSize, all.Width, 2), all.MidX, all.Bottom + FigureTheme.TickLength + 2 + FigureTheme.TextSize * 2.6f, anchor: TextAnchor.Middle);
        ImmutableArray<string> lines = Lettering.Wrap(frame.YLabel, FigureTheme.TextSize, all.Height, 2);
        for (int i = 0; i < lines.Length; i++)
            page.Write(lines[i], all.Left - PlotFrame.TickColumn(frame.Y) - (lines.Length - 1 - i) * FigureTheme.TextSize * 1.25f, all.MidY, anchor: TextAnchor.Middle, upward: true);
    }
}
