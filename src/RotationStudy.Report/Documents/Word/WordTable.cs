using System.Collections.Immutable;
using System.Globalization;
using DocumentFormat.OpenXml.Wordprocessing;

namespace RotationStudy.Report.Documents.Word;

/// <summary>A table of Word in the style of the study: its head repeats on every page, no row breaks across pages.</summary>
internal static class WordTable
{
    private const float Size = 8, TextWidth = 481.9f;
    private const int TwipsPerPoint = 20;

    internal static Table Of(PaperTable table)
    {
        ImmutableArray<int> widths = [.. TableWidths.Of(table, Size, TextWidth).Select(w => (int)Math.Round(w * TwipsPerPoint))];
        Table word = new(
            new TableProperties(
                new TableStyle { Val = "StudyTable" },
                new TableWidth { Width = Text(widths.Sum()), Type = TableWidthUnitValues.Dxa },
                new TableLayout { Type = TableLayoutValues.Fixed },
                new TableLook { FirstRow = true, LastRow = table.HasTotals, FirstColumn = false, LastColumn = false, NoHorizontalBand = true, NoVerticalBand = true },
                new TableCaption { Val = OfficeFile.Text(table.Caption) }),
            new TableGrid(widths.Select(w => new GridColumn { Width = Text(w) })));
        word.Append(Row([.. table.Columns.Select(c => c.Title)], table, widths, false, head: true));
        foreach (PaperRow row in table.Rows)
            word.Append(Row(row.Cells, table, widths, row.Indent, head: false));
        return word;
    }

    private static TableRow Row(ImmutableArray<string> cells, PaperTable table, ImmutableArray<int> widths, bool indent, bool head)
    {
        TableRowProperties properties = new(new CantSplit());
        if (head)
            properties.Append(new TableHeader());
        TableRow row = new(properties);
        for (int i = 0; i < cells.Length; i++)
        {
            ParagraphProperties look = new(new ParagraphStyleId { Val = table.Columns[i].IsNumeric ? "TableNumber" : "TableText" });
            if (head)
                look.Append(new KeepNext());
            if (i == 0 && indent)
                look.Append(new Indentation { Left = "200" });
            row.Append(new TableCell(
                new TableCellProperties(new TableCellWidth { Width = Text(widths[i]), Type = TableWidthUnitValues.Dxa }),
                new Paragraph(look, WordRuns.Plain(cells[i]))));
        }
        return row;
    }

    private static string Text(int twips) => twips.ToString(CultureInfo.InvariantCulture);
}
