using System.Collections.Immutable;
using RotationStudy.Report.Html;

namespace RotationStudy.Report.Documents;

/// <summary>Reads a table of the page.</summary>
internal static class PaperTableReader
{
    internal static PaperTable Read(PageElement table)
    {
        PageElement[] parts = [.. table.Children];
        string caption = PaperReader.Plain(parts.FirstOrDefault(p => p.Tag == "caption")?.AllText ?? "");
        PageElement[] head = [.. RowsOf(parts, "thead").SelectMany(r => r.Children)];
        PageElement[] body = [.. RowsOf(parts, "tbody")], foot = [.. RowsOf(parts, "tfoot")];
        ImmutableArray<PaperColumn> columns = [.. head.Select(h => new PaperColumn(PaperReader.Plain(h.AllText), h.HasClass("n")))];
        return new PaperTable(caption, columns, [.. body.Concat(foot).Select(r => Row(r, columns.Length))], foot.Length > 0);
    }

    private static IEnumerable<PageElement> RowsOf(PageElement[] parts, string part)
        => parts.Where(p => p.Tag == part).SelectMany(p => p.Children).Where(r => r.Tag == "tr");

    private static PaperRow Row(PageElement row, int columns)
    {
        PageElement[] cells = [.. row.Children];
        return new PaperRow(
            [.. Enumerable.Range(0, columns).Select(i => i < cells.Length ? PaperReader.Plain(cells[i].AllText) : "")],
            cells is [{ } first, ..] && first.HasClass("sub"));
    }
}
