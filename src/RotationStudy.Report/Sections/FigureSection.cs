using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Files;
using RotationStudy.Report.Html;

namespace RotationStudy.Report.Sections;

/// <summary>A figure in the page: the picture, its caption, the data behind it, and links to the files beside the report.</summary>
internal static class FigureSection
{
    private const int LongestInlineSvg = 300_000, MostRowsShown = 200;

    internal static void Write(HtmlWriter page, Figure figure)
    {
        page.Open("figure", ("id", HtmlWriter.Id("figure-", figure.Id)));
        if (figure.InlineSvg.Length <= LongestInlineSvg)
            page.Markup(new TrustedMarkup(figure.InlineSvg));
        else
            page.Open("img", ("alt", figure.AlternativeText), ("src", "data:image/png;base64," + Convert.ToBase64String(figure.Png.Span)));
        page.Open("figcaption").Element("strong", figure.Title + ". ").Text($"{figure.Caption} {figure.Method}".TrimEnd() + " Files: ");
        foreach (string ending in new[] { "png", "svg", "csv", "txt" })
            page.Link($"figures/{figure.Id}.{ending}", ending.ToUpperInvariant()).Text(" ");
        page.Close("figcaption");
        page.Open("details").Element("summary", $"Data of this figure ({NumberFormat.Count(figure.Data.Rows.Length, "row", "rows")})");
        WriteData(page, figure);
        page.Element("p", figure.AlternativeText, ("class", "note"));
        page.Close("details").Close("figure");
    }

    private static void WriteData(HtmlWriter page, Figure figure)
    {
        ImmutableArray<ImmutableArray<FlatCell>> rows = figure.Data.Rows;
        bool[] numeric = [.. figure.Data.Columns.Select((_, c) => rows.Any(r => r[c].Number is not null))];
        new HtmlTable(
            $"Data of: {figure.Title}",
            [.. figure.Data.Columns.Select((name, c) => new HtmlColumn(name.Replace('_', ' '), numeric[c]))],
            [.. rows.Take(MostRowsShown).Select(r => new HtmlRow([.. r.Select(c => new HtmlCell(c.Words, c.Number))]))])
        {
            Footnotes = rows.Length > MostRowsShown ? [$"The first {MostRowsShown} rows; figures/{figure.Id}.csv holds all."] : [],
        }.Write(page);
    }
}
