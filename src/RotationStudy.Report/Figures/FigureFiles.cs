using System.Collections.Immutable;
using System.Text;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>A figure of a finished run, laid out anew for one use, in every form that the use asks for.</summary>
/// <remarks>
/// Nothing is computed again: all numbers come from the results. The files are, by ending: png; svg and pdf with real text; tif (LZW) and a second png of
/// 600 dots per inch for print; csv with the numbers drawn; txt with title, caption and alternative text.
/// </remarks>
public static class FigureFiles
{
    private const int FineDotsPerInch = 600;

    /// <summary>Names of the uses.</summary>
    public static ImmutableArray<string> Uses => [.. FigureStyle.All.Select(s => s.Name)];

    /// <summary>The files of a figure for a use: names with ending, and bytes.</summary>
    /// <param name="results">Results of the run.</param>
    /// <param name="request">The figure, as the protocol declared it or with declared changes.</param>
    /// <param name="use">One of <see cref="Uses"/>.</param>
    /// <param name="files">Name of the files without ending.</param>
    /// <exception cref="ArgumentException">The kind of the figure, or the use, does not exist.</exception>
    public static ImmutableArray<(string Name, byte[] Content)> Draw(StudyResults results, FigureRequest request, string use, string files)
    {
        FigureStyle style = FigureStyle.Of(use);
        FigureDrawing drawing = FigureCatalog.Lay(results, request, style);
        return
        [
            (files + ".png", FigurePng.Write(drawing.Page)),
            (files + ".svg", Encoding.UTF8.GetBytes(FigureSvg.WriteFile(drawing.Page, files, request.Title, drawing.AlternativeText))),
            (files + ".pdf", FigurePdf.Write(drawing.Page, request.Title)),
            .. style.IsPrint ? Fine(drawing.Page, files) : [],
            (files + ".csv", Encoding.UTF8.GetBytes(drawing.Data.ToCsv())),
            (files + ".txt", Encoding.UTF8.GetBytes(Words(request, drawing, style))),
        ];
    }

    /// <summary>What journals ask for that want lines at twice the usual resolution.</summary>
    private static ImmutableArray<(string Name, byte[] Content)> Fine(FigurePage page, string files) =>
    [
        ($"{files}-{FineDotsPerInch}.png", FigurePng.Write(page, FineDotsPerInch)),
        (files + ".tif", FigureTiff.Write(page, FineDotsPerInch)),
    ];

    private static string Words(FigureRequest request, FigureDrawing drawing, FigureStyle style)
        => $"{request.Title}\n\n{drawing.Caption} Numbers are rounded for reading; the CSV holds them in full.\n\n{(drawing.Method.Length > 0 ? drawing.Method + "\n\n" : "")}{drawing.AlternativeText}\n\nUse: {style.Label}.{TooTall(drawing.Page)}\n";

    /// <summary>A slide that its content outgrows is taller than 16:9 rather than lettered too small to read.</summary>
    private static string TooTall(FigurePage page)
        => page.Style.LeastDots > 0 && page.Height > page.Style.LeastHeight + page.Style.Dot
            ? " The content is taller than a slide at legible lettering: show fewer questions or groups."
            : "";
}
