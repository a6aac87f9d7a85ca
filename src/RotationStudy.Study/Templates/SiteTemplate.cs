using System.Collections.Immutable;
using System.Text;
using CsvHelper;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Workbooks;

namespace RotationStudy.Study.Templates;

/// <summary>Empty files for a site to fill in, written out of the protocol: one per table, as CSV and as a workbook.</summary>
/// <remarks>
/// A workbook has drop-downs for codes, ranges for numbers, and a hint for every cell; a second sheet explains the columns.
/// A site sends back either the CSV files or the workbooks, filled in; ingest reads the first sheet.
/// </remarks>
public static class SiteTemplate
{
    private static readonly string[] Explained = ["column", "what it is", "type", "unit", "possible", "usual", "codes", "instead of a value", "needed", "how it is measured"];

    private static readonly double[] ExplainedWidths = [28, 30, 14, 10, 16, 16, 60, 40, 8, 60];

    private static readonly CsvWriterOptions Plain = new() { NewLine = "\n" };

    /// <summary>The files of a template.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <returns>Names relative to the folder, with forward slashes, and contents.</returns>
    public static IEnumerable<(string Name, byte[] Content)> Files(StudyProtocol protocol)
    {
        yield return ("read-me.txt", Encoding.UTF8.GetBytes(TemplateWords.ReadMe(protocol)));
        yield return ("columns.csv", Csv(["table", "file", .. Explained], protocol.Tables.SelectMany(t => t.Columns.Select(c => (string[])[t.Label, t.File, .. Explain(c)])), mark: true));
        foreach (TableDefinition table in protocol.Tables)
        {
            string[] header = [.. table.Columns.Select(c => c.Name)];
            yield return ("csv/" + Path.ChangeExtension(table.File, ".csv"), Csv(header, [], mark: false));
            yield return ("workbooks/" + Path.ChangeExtension(table.File, ".xlsx"), Workbook(table, header));
        }
    }

    private static byte[] Workbook(TableDefinition table, string[] header)
    {
        ImmutableArray<ColumnDefinition> columns = table.Columns;
        WorkbookSheet entry = new(SheetName(table.Name), header, [.. header.Select(h => (double)Math.Max(12, h.Length + 2))], [])
        {
            Entries = [.. columns.Select((c, i) => (i, Rule(c)))],
            Notes = [.. columns.Select((c, i) => (i, TemplateWords.Hint(c)))],
            TextColumns = [.. columns.Select((c, i) => (c, i)).Where(p => p.c.Type is ColumnType.Identifier or ColumnType.Code).Select(p => p.i)],
        };
        return WorkbookFile.Write([entry, new WorkbookSheet("Columns", Explained, ExplainedWidths, [.. columns.Select(Explain)])]);
    }

    private static EntryRule Rule(ColumnDefinition column)
    {
        bool isNumber = column.Type is ColumnType.Number or ColumnType.WholeNumber;
        return new EntryRule(
            column.Label,
            TemplateWords.Hint(column),
            column.Type == ColumnType.Code ? [.. column.Codes.Concat(column.MissingCodes).Select(c => c.Code)] : [],
            isNumber ? column.Possible?.Lowest : null,
            isNumber ? column.Possible?.Highest : null,
            column.Type == ColumnType.WholeNumber,
            // A column with codes for missing takes those beside numbers, which a range cannot say.
            Strict: column.Type == ColumnType.Code || (isNumber && column.MissingCodes.IsEmpty));
    }

    private static string[] Explain(ColumnDefinition column) =>
    [
        column.Name,
        column.Label,
        TemplateWords.TypeOf(column),
        column.Unit ?? string.Empty,
        TemplateWords.Range(column.Possible),
        TemplateWords.Range(column.Plausible),
        TemplateWords.Codes(column.Codes),
        TemplateWords.Codes(column.MissingCodes),
        column.Required ? "yes" : string.Empty,
        column.Method ?? string.Empty,
    ];

    private static byte[] Csv(string[] header, IEnumerable<string[]> rows, bool mark)
    {
        using MemoryStream stream = new();
        using (CsvWriter writer = CsvWriter.Create(stream, Plain with { WriteByteOrderMark = mark }, leaveOpen: true))
        {
            writer.WriteRecord(header);
            foreach (string[] row in rows)
                writer.WriteRecord(row);
        }
        return stream.ToArray();
    }

    /// <summary>A name that a workbook allows: at most 31 letters.</summary>
    private static string SheetName(string table) => table.Length <= 31 ? table : table[..31];
}
