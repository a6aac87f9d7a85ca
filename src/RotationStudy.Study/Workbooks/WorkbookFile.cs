using System.IO.Compression;
using SpreadCheetah;
using SpreadCheetah.Styling;
using SpreadCheetah.Validations;
using SpreadCheetah.Worksheets;

namespace RotationStudy.Study.Workbooks;

/// <summary>Writes XLSX workbooks of text, without formulas. The same sheets give the same bytes.</summary>
internal static class WorkbookFile
{
    /// <summary>Rows below the header for which entries are guided.</summary>
    internal const int GuidedRows = 5000;

    /// <summary>Longer text is broken into lines.</summary>
    private const int LongestLine = 40;

    private const int LongestTitle = 32;
    private const int LongestHint = 255;

    /// <summary>The first day that the format can hold; a workbook has no date of its own.</summary>
    private static readonly DateTimeOffset NoDate = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    internal static byte[] Write(IReadOnlyList<WorkbookSheet> sheets)
    {
        using MemoryStream stream = new();
        WriteAsync(sheets, stream).GetAwaiter().GetResult();
        return WithoutDates(stream);
    }

    private static async Task WriteAsync(IReadOnlyList<WorkbookSheet> sheets, Stream stream)
    {
        await using Spreadsheet workbook = await Spreadsheet.CreateNewAsync(stream, new SpreadCheetahOptions { DocumentProperties = null }).ConfigureAwait(false);
        Style bold = new();
        bold.Font.Bold = true;
        StyleId header = workbook.AddStyle(bold);
        // Text stays text: a spreadsheet must not turn an identifier or a code into a number or a date.
        Style asText = new() { Format = NumberFormat.Standard(StandardNumberFormat.Text) };
        StyleId text = workbook.AddStyle(asText);
        Style longText = new() { Format = asText.Format };
        longText.Alignment.WrapText = true;
        StyleId wrapped = workbook.AddStyle(longText);
        foreach (WorkbookSheet sheet in sheets)
            await WriteAsync(workbook, sheet, header, asText, cell => cell.Length > LongestLine ? wrapped : text).ConfigureAwait(false);
        await workbook.FinishAsync().ConfigureAwait(false);
    }

    private static async Task WriteAsync(Spreadsheet workbook, WorkbookSheet sheet, StyleId header, Style asText, Func<string, StyleId> styleOf)
    {
        WorksheetOptions options = new() { FrozenRows = 1 };
        for (int c = 0; c < sheet.Widths.Count; c++)
            options.Column(c + 1).Width = sheet.Widths[c];
        foreach (int c in sheet.TextColumns)
            options.Column(c + 1).DefaultStyle = asText;
        await workbook.StartWorksheetAsync(sheet.Name, options).ConfigureAwait(false);
        await workbook.AddHeaderRowAsync([.. sheet.Header], header).ConfigureAwait(false);
        foreach (string[] row in sheet.Rows)
            await workbook.AddRowAsync(Array.ConvertAll(row, cell => new StyledCell(cell, styleOf(cell)))).ConfigureAwait(false);
        foreach ((int column, EntryRule rule) in sheet.Entries)
            workbook.AddDataValidation(FormattableString.Invariant($"{Letters(column)}2:{Letters(column)}{GuidedRows + 1}"), Validation(rule));
        foreach ((int column, string note) in sheet.Notes)
            workbook.AddNote(Letters(column) + "1", note);
    }

    private static DataValidation Validation(EntryRule rule)
    {
        DataValidation validation = rule switch
        {
            { Choices.Count: > 0 } when DataValidation.TryCreateListValues(rule.Choices, true, out DataValidation? list) => list,
            { Lowest: { } low, Highest: { } high, Whole: true } when Math.Abs(low) < int.MaxValue && Math.Abs(high) < int.MaxValue => DataValidation.IntegerBetween((int)low, (int)high),
            { Lowest: { } low, Highest: { } high } => DataValidation.DecimalBetween(low, high),
            _ => DataValidation.TextLengthBetween(0, 200),
        };
        validation.ErrorType = rule.Strict ? ValidationErrorType.Blocking : ValidationErrorType.Warning;
        validation.IgnoreBlank = true;
        validation.InputTitle = Cut(rule.Title, LongestTitle);
        validation.InputMessage = Cut(rule.Hint, LongestHint);
        validation.ErrorTitle = Cut(rule.Title, LongestTitle);
        validation.ErrorMessage = Cut(rule.Hint, LongestHint);
        return validation;
    }

    private static string Cut(string text, int most) => text.Length <= most ? text : text[..(most - 1)] + "…";

    /// <summary>Name of a column: A, B, … Z, AA.</summary>
    private static string Letters(int column)
    {
        string letters = string.Empty;
        for (int rest = column + 1; rest > 0; rest = (rest - 1) / 26)
            letters = (char)('A' + ((rest - 1) % 26)) + letters;
        return letters;
    }

    /// <summary>The same archive with one date for all entries, and none packed: a packer's output depends on the processor.</summary>
    private static byte[] WithoutDates(MemoryStream stream)
    {
        using MemoryStream clean = new();
        stream.Position = 0;
        using (ZipArchive from = new(stream, ZipArchiveMode.Read))
        using (ZipArchive to = new(clean, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (ZipArchiveEntry entry in from.Entries)
            {
                ZipArchiveEntry copy = to.CreateEntry(entry.FullName, CompressionLevel.NoCompression);
                copy.LastWriteTime = NoDate;
                using Stream source = entry.Open();
                using Stream target = copy.Open();
                source.CopyTo(target);
            }
        }
        return clean.ToArray();
    }
}
