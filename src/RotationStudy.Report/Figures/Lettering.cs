using System.Collections.Immutable;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The typeface of the figures, shipped inside the program, so that a machine without fonts draws and measures the same.</summary>
internal static class Lettering
{
    /// <summary>Family names for SVG, ours first; the others have similar widths, and every text carries its length.</summary>
    internal const string SvgFamilies = "Open Sans, Noto Sans, Segoe UI, Helvetica Neue, Arial, sans-serif";

    private const string RegularFile = "OpenSans-Regular.ttf", BoldFile = "OpenSans-Bold.ttf";

    // One of each per thread: the drawing library has died, rarely, while several threads drew with one typeface.
    [ThreadStatic]
    private static SKTypeface? regular;

    [ThreadStatic]
    private static SKTypeface? bold;

    private static SKTypeface Regular => regular ??= Load(RegularFile);

    private static SKTypeface Bold => bold ??= Load(BoldFile);

    /// <summary>Whether the typeface has every letter of a text.</summary>
    internal static bool Covers(string text) => Regular.ContainsGlyphs(text) && Bold.ContainsGlyphs(text);

    /// <summary>A font of that size in points. Outlines are not hinted, so lengths scale exactly.</summary>
    internal static SKFont Font(float size, bool bold) => new(bold ? Bold : Regular, size)
    {
        Subpixel = true,
        Hinting = SKFontHinting.None,
        Edging = SKFontEdging.Antialias,
        LinearMetrics = true,
    };

    /// <summary>Length of one line of text in points.</summary>
    internal static float Width(string text, float size, bool bold = false)
    {
        using SKFont font = Font(size, bold);
        return font.MeasureText(text);
    }

    /// <summary>Breaks a text into lines no longer than <paramref name="width"/>; what does not fit the last line ends in an ellipsis.</summary>
    internal static ImmutableArray<string> Wrap(string text, float size, float width, int maxLines = int.MaxValue, bool bold = false)
    {
        List<string> lines = [];
        using SKFont font = Font(size, bold);
        string line = "";
        foreach (string word in VisibleText.Of(text).Split([' ', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (font.MeasureText(longer) <= width)
            {
                line = longer;
                continue;
            }
            if (line.Length > 0)
                lines.Add(line);
            line = BreakWord(word, font, width, lines);
        }
        if (line.Length > 0 || lines.Count == 0)
            lines.Add(line);
        if (lines.Count > maxLines)
        {
            lines[maxLines - 1] = Shorten(string.Join(' ', lines.Skip(maxLines - 1)), font, width);
            lines.RemoveRange(maxLines, lines.Count - maxLines);
        }
        return [.. lines];
    }

    private static string BreakWord(string word, SKFont font, float width, List<string> lines)
    {
        while (font.MeasureText(word) > width && word.Length > 1)
        {
            int fit = word.Length - 1;
            while (fit > 1 && font.MeasureText(word.AsSpan(0, fit)) > width)
                fit--;
            lines.Add(word[..fit]);
            word = word[fit..];
        }
        return word;
    }

    private static string Shorten(string text, SKFont font, float width)
    {
        for (int fit = text.Length; fit > 0; fit--)
        {
            string shorter = text[..fit].TrimEnd() + "\u2026";
            if (font.MeasureText(shorter) <= width)
                return shorter;
        }
        return "\u2026";
    }

    /// <summary>The file of the typeface, for documents that embed it.</summary>
    internal static byte[] FontFile(bool bold)
    {
        using Stream stream = Open(bold ? BoldFile : RegularFile);
        using MemoryStream file = new();
        stream.CopyTo(file);
        return file.ToArray();
    }

    private static SKTypeface Load(string file)
    {
        using Stream stream = Open(file);
        using SKData data = SKData.Create(stream);
        return SKTypeface.FromData(data);
    }

    private static Stream Open(string file) => typeof(Lettering).Assembly.GetManifestResourceStream("Fonts/" + file)
        ?? throw new InvalidOperationException($"The font {file} is missing from the program.");
}
