using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Reads a file of any format whose header has the names of the protocol.</summary>
internal static class SourceTable
{
    private const int RowsBetweenLooks = 4096;

    /// <summary>The rows, or null when the file cannot be used; findings say why.</summary>
    internal static ExportFile? Read(string path, string name, TableDefinition table, List<Finding> findings, CancellationToken cancellation)
    {
        TableDefinition named = table with { File = name };
        try
        {
            using RowSource source = RowFormat.Open(path, FileLayout.Default);
            return CsvHeader.Match(source.Header, named, findings) is { } header
                ? ReadRows(source, header, named, findings, cancellation)
                : null;
        }
        catch (UnreadableFileException e)
        {
            findings.Add(Unreadable(name, e));
            return null;
        }
    }

    internal static Finding Unreadable(string name, UnreadableFileException e) => CheckCatalog.FileUnreadable.At(
        name, e.Line, null, null, "a file that can be read", $"{name} cannot be read: {e.Message}. Send it again, or as CSV in UTF-8.");

    internal static Finding Ragged(string file, int line, int found, int expected) => CheckCatalog.RowFields.At(
        file, line, null, null, string.Create(CultureInfo.InvariantCulture, $"{expected} cells"),
        string.Create(CultureInfo.InvariantCulture, $"Row {line} of {file} has {found} cells, the header has {expected}. The row is set aside."));

    private static ExportFile ReadRows(RowSource source, CsvHeader header, TableDefinition table, List<Finding> findings, CancellationToken cancellation)
    {
        RawColumnBuilder[] columns = [.. header.Positions.Select(p => new RawColumnBuilder(header.Names[p]))];
        int[] others = [.. Enumerable.Range(0, header.Names.Length).Except(header.Positions)];
        RawColumnBuilder[] undeclared = [.. others.Select(p => new RawColumnBuilder(header.Names[p]))];
        ImmutableArray<int>.Builder lines = ImmutableArray.CreateBuilder<int>();
        int ragged = 0;
        while (source.Read())
        {
            if (lines.Count % RowsBetweenLooks == 0)
                cancellation.ThrowIfCancellationRequested();
            if (source.Cells != header.Names.Length)
            {
                findings.Add(Ragged(table.File, source.Line, source.Cells, header.Names.Length));
                ragged++;
                continue;
            }
            lines.Add(source.Line);
            for (int c = 0; c < columns.Length; c++)
                columns[c].Add(source.Cell(header.Positions[c]));
            for (int c = 0; c < undeclared.Length; c++)
                undeclared[c].Add(source.Cell(others[c]));
        }
        if (lines.Count == 0 && ragged == 0)
            findings.Add(CheckCatalog.TableNoRows.InFile(table.File, "rows", $"{table.File} has a header and no rows: nothing was recorded in {table.Label}."));
        return new ExportFile(table.Name, table.File, [.. columns.Select(c => c.Build())], lines.DrainToImmutable(), ragged)
        {
            Undeclared = [.. undeclared.Select(c => c.Build())],
        };
    }
}
