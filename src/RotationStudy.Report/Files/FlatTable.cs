using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace RotationStudy.Report.Files;

/// <summary>A plain table, written as CSV and shown beside a figure.</summary>
/// <param name="Columns">Column names.</param>
/// <param name="Rows">Rows, each with one cell per column.</param>
public sealed record FlatTable(ImmutableArray<string> Columns, ImmutableArray<ImmutableArray<FlatCell>> Rows)
{
    /// <summary>The table as CSV: comma, LF, UTF-8, quotes where needed, numbers in full in the invariant form.</summary>
    /// <remarks>
    /// A text cell that a spreadsheet would run as a formula (it starts with =, +, -, @, a tab or a carriage return) gets an
    /// apostrophe in front; number cells are never touched.
    /// </remarks>
    public string ToCsv()
    {
        StringBuilder csv = new();
        AppendLine(csv, Columns.Select(c => new FlatCell(c, null)));
        foreach (ImmutableArray<FlatCell> row in Rows)
            AppendLine(csv, row);
        return csv.ToString();
    }

    private static void AppendLine(StringBuilder csv, IEnumerable<FlatCell> cells)
    {
        csv.AppendJoin(',', cells.Select(c => c.Number is { } n ? Number(n) : Text(c.Text))).Append('\n');
    }

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Text(string text)
    {
        string safe = text.Length > 0 && text[0] is '=' or '+' or '-' or '@' or '\t' or '\r' ? "'" + text : text;
        return safe.AsSpan().IndexOfAny(",\"\n\r") >= 0 ? $"\"{safe.Replace("\"", "\"\"")}\"" : safe;
    }
}

/// <summary>Rows of cells.</summary>
internal static class FlatRow
{
    /// <summary>A row of these cells.</summary>
    internal static ImmutableArray<FlatCell> Of(params ReadOnlySpan<FlatCell> cells) => [.. cells];
}

/// <summary>A cell: a number, or text.</summary>
/// <param name="Text">The text; empty for a number or a cell without a value.</param>
/// <param name="Number">The number; null for text.</param>
public readonly record struct FlatCell(string Text, double? Number)
{
    /// <summary>A cell of text.</summary>
    public static implicit operator FlatCell(string? text) => new(text ?? "", null);

    /// <summary>A cell with a number.</summary>
    public static implicit operator FlatCell(double number) => new("", number);

    /// <summary>A cell with a number, or empty.</summary>
    public static implicit operator FlatCell(double? number) => new("", number);

    /// <summary>The cell for reading, shortened to four significant digits.</summary>
    public string Words => Number is { } n ? NumberFormat.Brief(n) : Text;

    /// <summary>A cell of text.</summary>
    public static FlatCell FromString(string? text) => text;

    /// <summary>A cell with a number.</summary>
    public static FlatCell FromDouble(double number) => number;
}
