using System.Collections.Immutable;
using System.Globalization;

namespace RotationStudy.Report.Html;

/// <summary>A table of a page: caption, scoped headers, a container of its own that scrolls on narrow screens.</summary>
/// <param name="Caption">Caption.</param>
/// <param name="Columns">Columns; the first names the row.</param>
/// <param name="Rows">Rows.</param>
internal sealed record HtmlTable(string Caption, ImmutableArray<HtmlColumn> Columns, ImmutableArray<HtmlRow> Rows)
{
    private const int WorthSorting = 3;

    /// <summary>Notes below the table.</summary>
    internal ImmutableArray<string> Footnotes { get; init; } = [];

    /// <summary>A closing row of sums, which sorting leaves in place; null for none.</summary>
    internal HtmlRow? Totals { get; init; }

    internal void Write(HtmlWriter page)
    {
        bool sortable = Rows.Length >= WorthSorting && Rows.All(r => r.Indent == 0);
        page.Open("div", ("class", "scroll"), ("tabindex", "0"), ("role", "region"), ("aria-label", Caption));
        page.Open("table", ("data-sortable", sortable ? "" : null));
        page.Element("caption", Caption);
        page.Open("thead").Open("tr");
        foreach (HtmlColumn column in Columns)
            page.Element("th", column.Title, ("scope", "col"), ("class", column.IsNumeric ? "n" : null));
        page.Close("tr").Close("thead").Open("tbody");
        foreach (HtmlRow row in Rows)
            WriteRow(page, row);
        page.Close("tbody");
        if (Totals is { } totals)
        {
            page.Open("tfoot");
            WriteRow(page, totals);
            page.Close("tfoot");
        }
        page.Close("table").Close("div");
        foreach (string note in Footnotes)
            page.Element("p", note, ("class", "note"));
    }

    private void WriteRow(HtmlWriter page, HtmlRow row)
    {
        page.Open("tr");
        for (int i = 0; i < row.Cells.Length; i++)
        {
            HtmlCell cell = row.Cells[i];
            string? css = i == 0 && row.Indent > 0 ? "sub" : Columns[i].IsNumeric ? "n" : Columns[i].IsCode ? "code" : null;
            string? sort = cell.Sort?.ToString("R", CultureInfo.InvariantCulture);
            if (i == 0)
                page.Open("th", ("scope", "row"), ("id", cell.Anchor), ("class", css), ("data-sort", sort));
            else
                page.Open("td", ("id", cell.Anchor), ("class", css), ("data-sort", sort));
            if (cell.Link is { } link)
                page.Link(link, cell.Text);
            else
                page.Text(cell.Text);
            page.Close(i == 0 ? "th" : "td");
        }
        page.Close("tr");
    }
}

/// <summary>A column.</summary>
/// <param name="Title">Heading.</param>
/// <param name="IsNumeric">Whether cells are set to the right.</param>
/// <param name="IsCode">Whether cells hold hashes or the like.</param>
internal sealed record HtmlColumn(string Title, bool IsNumeric = false, bool IsCode = false)
{
    public static implicit operator HtmlColumn(string title) => new(title);

    internal static HtmlColumn Number(string title) => new(title, IsNumeric: true);
}

/// <summary>A row.</summary>
/// <param name="Cells">One cell per column.</param>
/// <param name="Indent">1 for a level below the row above.</param>
internal sealed record HtmlRow(ImmutableArray<HtmlCell> Cells, int Indent = 0)
{
    internal static HtmlRow Of(params ReadOnlySpan<HtmlCell> cells) => new([.. cells]);
}

/// <summary>A cell.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Sort">Number to sort by; null sorts by text.</param>
internal readonly record struct HtmlCell(string Text, double? Sort = null)
{
    /// <summary>Where a click on the text leads; null for plain text.</summary>
    internal string? Link { get; init; }

    /// <summary>An id of its own for the cell, to be linked to; null for none.</summary>
    internal string? Anchor { get; init; }

    public static implicit operator HtmlCell(string? text) => new(text ?? "");

    public static implicit operator HtmlCell(long count) => new(NumberFormat.Count(count), count);
}
