using System.Globalization;
using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A laid-out figure as SVG: scalable, lettering as real text, ids of its own, the same bytes in whatever order figures are drawn.</summary>
/// <remarks>
/// Skia numbers clip paths from a counter shared by the whole process, so ids are numbered anew and carry the figure's id;
/// that also keeps several figures apart in one page. Every text states its length, so another font fills the same room.
/// </remarks>
internal static partial class FigureSvg
{
    /// <summary>The file, with XML declaration.</summary>
    internal static string WriteFile(FigurePage page, string id, string title, string description)
        => "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n" + Write(page, id, title, description, "xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" ", inline: false);

    /// <summary>The element for a page: no namespace needed, title and description given by the page.</summary>
    internal static string WriteInline(FigurePage page, string id, string title, string description)
        => Write(page, id, title, description, "", inline: true);

    private static string Write(FigurePage page, string id, string title, string description, string names, bool inline)
    {
        StringBuilder svg = new();
        string size = inline ? "" : string.Create(CultureInfo.InvariantCulture, $"width=\"{Millimetres(page.Width * page.Style.Scale)}mm\" height=\"{Millimetres(page.Height * page.Style.Scale)}mm\" ");
        svg.Append(CultureInfo.InvariantCulture, $"<svg {names}{size}viewBox=\"0 0 {page.Width:0.##} {page.Height:0.##}\" role=\"img\" aria-labelledby=\"{id}-t {id}-d\">\n");
        svg.Append(CultureInfo.InvariantCulture, $"<title id=\"{id}-t\">{Escape(title)}</title>\n<desc id=\"{id}-d\">{Escape(description)}</desc>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<rect width=\"100%\" height=\"100%\" fill=\"{Hex(page.Style.Paper)}\"/>\n");
        svg.Append(Marks(page, id));
        svg.Append(CultureInfo.InvariantCulture, $"<g font-family=\"{Lettering.SvgFamilies}\">\n");
        foreach (FigureText text in page.Texts)
            AppendText(svg, text);
        return svg.Append("</g>\n</svg>\n").ToString();
    }

    private static string Marks(FigurePage page, string id)
    {
        using MemoryStream stream = new();
        using (SKCanvas canvas = SKSvgCanvas.Create(new SKRect(0, 0, page.Width, page.Height), stream))
            page.DrawMarks(canvas);
        string svg = Encoding.UTF8.GetString(stream.ToArray()).ReplaceLineEndings("\n");
        int start = svg.IndexOf('>', svg.IndexOf("<svg", StringComparison.Ordinal)) + 1;
        int end = svg.LastIndexOf("</svg>", StringComparison.Ordinal);
        return end < start ? "" : Renumber(svg[start..end].Trim() + "\n", id);
    }

    private static string Renumber(string svg, string id)
    {
        Dictionary<string, string> names = new(StringComparer.Ordinal);
        foreach (Match match in DefinedId().Matches(svg))
            names.TryAdd(match.Groups[1].Value, string.Create(CultureInfo.InvariantCulture, $"{id}-{names.Count + 1}"));
        return UsedId().Replace(svg, match => names.TryGetValue(match.Groups[2].Value, out string? name)
            ? match.Groups[1].Value + name + match.Groups[3].Value
            : match.Value);
    }

    private static void AppendText(StringBuilder svg, FigureText text)
    {
        string anchor = text.Anchor switch { TextAnchor.Middle => " text-anchor=\"middle\"", TextAnchor.End => " text-anchor=\"end\"", _ => "" };
        string bold = text.Bold ? " font-weight=\"700\"" : "";
        string place = text.Upward
            ? string.Create(CultureInfo.InvariantCulture, $"transform=\"translate({text.X:0.##} {text.Y:0.##}) rotate(-90)\"")
            : string.Create(CultureInfo.InvariantCulture, $"x=\"{text.X:0.##}\" y=\"{text.Y:0.##}\"");
        string length = text.Text.Length > 1
            ? string.Create(CultureInfo.InvariantCulture, $" textLength=\"{text.Length:0.##}\" lengthAdjust=\"spacingAndGlyphs\"")
            : "";
        svg.Append(CultureInfo.InvariantCulture,
            $"<text {place} font-size=\"{text.Size:0.##}\"{anchor}{bold}{length} fill=\"{Hex(text.Color)}\">{Escape(text.Text)}</text>\n");
    }

    private static string Millimetres(float points) => (points * FigureTheme.MillimetresPerPoint).ToString("0.##", CultureInfo.InvariantCulture);

    private static string Hex(SKColor color) => string.Create(CultureInfo.InvariantCulture, $"#{color.Red:x2}{color.Green:x2}{color.Blue:x2}");

    private static string Escape(string text) => WebUtility.HtmlEncode(VisibleText.Of(text)).Replace("&#39;", "&apos;", StringComparison.Ordinal);

    [GeneratedRegex("\\bid=\"([^\"]+)\"")]
    private static partial Regex DefinedId();

    [GeneratedRegex("(\\bid=\"|url\\(#|href=\"#)([^\")]+)([\")])")]
    private static partial Regex UsedId();
}
