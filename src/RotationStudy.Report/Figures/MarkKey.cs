using System.Collections.Immutable;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>How an entry of a key looks.</summary>
internal enum KeySymbol
{
    /// <summary>The mark of a series.</summary>
    Mark,

    /// <summary>The line of a series.</summary>
    Line,

    /// <summary>The line of a series on its band.</summary>
    Band,

    /// <summary>A ring around a mark.</summary>
    Ring,

    /// <summary>A thin grey line.</summary>
    Thin,

    /// <summary>A thin dashed line.</summary>
    Dashed,

    /// <summary>A filled box in the colour of a series.</summary>
    Box,

    /// <summary>An empty box.</summary>
    EmptyBox,
}

/// <summary>An entry of a key.</summary>
/// <param name="Symbol">How it looks.</param>
/// <param name="Series">Series whose colour, mark and line style it shows.</param>
/// <param name="Text">What it means.</param>
internal sealed record KeyEntry(KeySymbol Symbol, int Series, string Text);

/// <summary>What the marks mean, above the plot, in as many rows as the width asks for.</summary>
internal sealed record MarkKey(ImmutableArray<KeyEntry> Entries)
{
    private const float Row = 12, SymbolWidth = 20, Gap = 14;

    internal static MarkKey None { get; } = new([]);

    internal bool IsEmpty => Entries.IsEmpty;

    internal static MarkKey Of(params KeyEntry?[] entries) => new([.. entries.OfType<KeyEntry>()]);

    internal float Height(float width) => IsEmpty ? 0 : Lay(width)[^1].Y + Row;

    internal void Write(FigurePage page, float top, float width)
    {
        foreach ((KeyEntry entry, string text, float x, float y) in IsEmpty ? [] : Lay(width))
        {
            float left = FigureTheme.Margin + x, middle = top + y + Row / 2;
            Draw(page, entry, left, middle);
            page.Write(text, left + SymbolWidth, middle + 0.35f * FigureTheme.TextSize);
        }
    }

    private List<(KeyEntry Entry, string Text, float X, float Y)> Lay(float width)
    {
        List<(KeyEntry, string, float, float)> places = [];
        float x = 0, y = 0;
        foreach (KeyEntry entry in Entries)
        {
            string text = Lettering.Wrap(entry.Text, FigureTheme.TextSize, width - SymbolWidth, 1)[0];
            float wide = SymbolWidth + Lettering.Width(text, FigureTheme.TextSize);
            if (x > 0 && x + wide > width)
                (x, y) = (0, y + Row);
            places.Add((entry, text, x, y));
            x += wide + Gap;
        }
        return places;
    }

    private static void Draw(FigurePage page, KeyEntry entry, float x, float y)
    {
        SKColor color = page.Style.Series(entry.Series);
        switch (entry.Symbol)
        {
            case KeySymbol.Mark:
                SeriesMark.Draw(page, entry.Series, x + 8, y, color);
                break;
            case KeySymbol.Ring:
                page.Ring(x + 8, y, 4, color, 1.1f);
                break;
            case KeySymbol.Box:
                page.Box(new SKRect(x + 2, y - 4, x + 14, y + 4), color);
                break;
            case KeySymbol.EmptyBox:
                page.Box(new SKRect(x + 2, y - 4, x + 14, y + 4), null, page.Style.Rule);
                break;
            case KeySymbol.Thin:
                page.Line(x, y, x + 16, y, page.Style.Rule, FigureTheme.AxisWidth);
                break;
            case KeySymbol.Dashed:
                page.Line(x, y, x + 16, y, page.Style.QuietInk, FigureTheme.AxisWidth, 3, 2);
                break;
            default:
                if (entry.Symbol == KeySymbol.Band)
                    page.Box(new SKRect(x, y - 4, x + 16, y + 4), color.WithAlpha(46));
                page.Line(x, y, x + 16, y, color, FigureTheme.CurveWidth, FigureTheme.Dashes(Math.Max(0, entry.Series)));
                break;
        }
    }
}
