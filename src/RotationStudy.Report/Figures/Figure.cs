using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>A finished figure in all its forms. All of them come from one layout, so they agree.</summary>
/// <param name="Id">Id, which is the file name without ending.</param>
/// <param name="Title">Title.</param>
/// <param name="Caption">Numbers and method below the figure.</param>
/// <param name="AlternativeText">What the figure shows, in sentences with the numbers.</param>
/// <param name="Png">PNG at 300 dots per inch and 170 mm width.</param>
/// <param name="Svg">SVG file.</param>
/// <param name="InlineSvg">SVG element for a page.</param>
/// <param name="Data">The numbers that are drawn.</param>
public sealed record Figure(
    string Id, string Title, string Caption, string AlternativeText, ReadOnlyMemory<byte> Png, string Svg, string InlineSvg, FlatTable Data)
{
    private const int ThumbnailDotsPerInch = 96;

    /// <summary>How the numbers drawn were reached, for the methods section of a paper; empty where nothing was estimated.</summary>
    public string Method { get; init; } = "";

    /// <summary>A small PNG for lists of figures.</summary>
    public required ReadOnlyMemory<byte> Thumbnail { get; init; }

    /// <summary>A PDF page of the figure's size.</summary>
    public required ReadOnlyMemory<byte> Pdf { get; init; }

    /// <summary>Width at final size, in points.</summary>
    public required float Width { get; init; }

    /// <summary>Height at final size, in points.</summary>
    public required float Height { get; init; }

    internal static Figure Finish(FigureRequest request, FigureDrawing drawing) => new(
        request.Id, request.Title, drawing.Caption, drawing.AlternativeText,
        FigurePng.Write(drawing.Page),
        FigureSvg.WriteFile(drawing.Page, request.Id, request.Title, drawing.AlternativeText),
        FigureSvg.WriteInline(drawing.Page, request.Id, request.Title, drawing.AlternativeText),
        drawing.Data)
    {
        Method = drawing.Method,
        Thumbnail = FigurePng.Write(drawing.Page, ThumbnailDotsPerInch),
        Pdf = FigurePdf.Write(drawing.Page, request.Title),
        Width = drawing.Page.Width * drawing.Page.Style.Scale,
        Height = drawing.Page.Height * drawing.Page.Style.Scale,
    };
}

/// <summary>What a kind of figure hands on: the layout and the words and numbers that go with it.</summary>
/// <param name="Page">The layout.</param>
/// <param name="Caption">Numbers and method.</param>
/// <param name="AlternativeText">What it shows.</param>
/// <param name="Data">The numbers drawn.</param>
internal sealed record FigureDrawing(FigurePage Page, string Caption, string AlternativeText, FlatTable Data)
{
    /// <summary>How the numbers drawn were reached, for the methods section of a paper; empty where nothing was estimated.</summary>
    internal string Method { get; init; } = "";

    /// <summary>In place of a figure that has nothing to draw: its title and the reason.</summary>
    internal static FigureDrawing Without(FigureRequest request, FigureStyle style, string reason)
    {
        float width = style.Width - 2 * FigureTheme.Margin;
        var lines = Lettering.Wrap(reason, FigureTheme.TextSize, width);
        float top = FigureTitle.Height(request.Title, width);
        FigurePage page = new(style, top + (lines.Length + 1) * FigureTheme.TextSize * FigureTheme.LineHeight + FigureTheme.Margin);
        FigureTitle.Write(page, request.Title, width);
        page.WriteLines(lines, FigureTheme.Margin, top + FigureTheme.TextSize);
        return new FigureDrawing(page, reason, $"{request.Title}. No picture: {reason}", new FlatTable(["note"], [[reason]]));
    }
}

/// <summary>The title above a figure.</summary>
internal static class FigureTitle
{
    private const int MaxLines = 3;

    /// <summary>Height that the title takes, with the room below it.</summary>
    internal static float Height(string title, float width)
        => FigureTheme.Margin + Lines(title, width).Length * FigureTheme.TitleSize * FigureTheme.LineHeight + 6;

    /// <summary>Sets the title at the top left.</summary>
    internal static void Write(FigurePage page, string title, float width)
        => page.WriteLines(Lines(title, width), FigureTheme.Margin, FigureTheme.Margin + FigureTheme.TitleSize, FigureTheme.TitleSize, bold: true);

    /// <summary>No lines for a figure whose title stands elsewhere, as on a slide of a deck.</summary>
    private static System.Collections.Immutable.ImmutableArray<string> Lines(string title, float width)
        => title.Length == 0 ? [] : Lettering.Wrap(title, FigureTheme.TitleSize, width, MaxLines, bold: true);
}
