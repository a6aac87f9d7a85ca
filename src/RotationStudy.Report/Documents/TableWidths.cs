using System.Collections.Immutable;
using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents;

/// <summary>Widths of the columns of a table: each has what its words need, the long ones share the rest.</summary>
internal static class TableWidths
{
    /// <summary>Room between columns, in points.</summary>
    internal const float Gap = 8;

    private const float LongestWord = 110, LongestNumber = 130;

    /// <summary>The widths in points, gaps included; they add up to no more than <paramref name="available"/>.</summary>
    internal static ImmutableArray<float> Of(PaperTable table, float size, float available)
    {
        int n = table.Columns.Length;
        float[] least = new float[n], most = new float[n];
        for (int i = 0; i < n; i++)
            (least[i], most[i]) = Needs(table, i, size, available);
        float floor = least.Sum(), ceiling = most.Sum();
        if (ceiling <= available)
            return [.. most];
        if (floor >= available)
            return [.. least.Select(w => w * available / floor)];
        float share = (available - floor) / (ceiling - floor);
        return [.. least.Select((w, i) => w + share * (most[i] - w))];
    }

    /// <summary>Whether all words fit unbroken at that size.</summary>
    internal static bool Fits(PaperTable table, float size, float available)
        => Enumerable.Range(0, table.Columns.Length).Sum(i => Needs(table, i, size, available).Least) <= available;

    private static (float Least, float Most) Needs(PaperTable table, int column, float size, float available)
    {
        PaperColumn head = table.Columns[column];
        float word = LongestOfWords(head.Title, size, bold: true), whole = Lettering.Width(head.Title, size, bold: true);
        foreach (PaperRow row in table.Rows)
        {
            float indent = column == 0 && row.Indent ? size : 0;
            float width = Lettering.Width(row.Cells[column], size) + indent;
            whole = Math.Max(whole, width);
            word = Math.Max(word, head.IsNumeric && width <= LongestNumber ? width : Math.Min(LongestWord, LongestOfWords(row.Cells[column], size, bold: false)) + indent);
        }
        return (word + Gap, Math.Min(whole, 1.5f * available) + Gap);
    }

    private static float LongestOfWords(string text, float size, bool bold)
        => text.Split(' ').Max(w => Lettering.Width(w, size, bold));
}
