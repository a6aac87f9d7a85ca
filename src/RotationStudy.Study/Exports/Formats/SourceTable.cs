using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Reads a file of any format whose header has the names of the protocol.</summary>
internal static class SourceTable
{
    /// <summary>The rows, or null when the file cannot be used; findings say why.</summary>
    internal static ExportFile? Read(string path, string name, TableDefinition table, ExportReading reading)
    {
        TableDefinition named = table with { File = name };
        try
        {
            using TableSource? source = RowFormat.Open(path, name, FileLayout.Default, reading);
            return source is not null && CsvHeader.Match(source.Header, named, reading.Findings) is { } header
                ? ReadRows(source, header, named, reading)
                : null;
        }
        catch (UnreadableFileException e)
        {
            reading.Findings.Add(Unreadable(name, e));
            return null;
        }
    }

    internal static Finding Unreadable(string name, UnreadableFileException e)
    {
        string where = e.Line > 0 ? string.Create(CultureInfo.InvariantCulture, $"From line {e.Line} on, {name}") : name;
        return e.Rule.At(
            name, e.Line, null, null, "a file that can be read", $"{where} cannot be read: {e.Message}. Send it again, or as CSV in UTF-8.");
    }

    private static ExportFile ReadRows(TableSource source, CsvHeader header, TableDefinition table, ExportReading reading)
    {
        int[] others = [.. Enumerable.Range(0, header.Names.Length).Except(header.Positions)];
        RawTable raw = source.Rows(table.File, [.. header.Positions, .. others], reading);
        if (raw.Lines.IsEmpty && raw.RaggedRows == 0)
        {
            reading.Findings.Add(CheckCatalog.TableNoRows.InFile(
                table.File, "rows", $"{table.File} has a header and no rows: nothing was recorded in {table.Label}."));
        }
        int declared = header.Positions.Length;
        return new ExportFile(table.Name, table.File, raw.Columns[..declared], raw.Lines, raw.RaggedRows)
        {
            Undeclared = raw.Columns[declared..],
        };
    }
}
