using System.Collections.Immutable;
using System.Text;
using CsvHelper;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports;

/// <summary>Reads the header and rows of one CSV file.</summary>
internal static class CsvTable
{
    /// <summary>No row of a study is longer; an unpaired quotation mark must not swallow the rest of a large file.</summary>
    private const int LongestRow = 1 << 20;

    private const int RowsBetweenLooks = 4096;

    private static readonly CsvReaderOptions Options = new()
    {
        Separator = ',',
        MalformedData = CsvMalformedDataHandling.Throw,
        FieldCountMismatch = CsvFieldCountHandling.Allow,
        TrackLineNumbers = true,
        DetectSeparatorHint = false,
        IncludeValuesInExceptions = false,
        MaxRecordSize = LongestRow,
    };

    /// <summary>The rows, or null when the file cannot be read as a table; findings say why.</summary>
    internal static ExportFile? Read(
        Stream stream, TextEncoding encoding, TableDefinition table, List<Finding> findings, CancellationToken cancellation)
    {
        using CsvReader reader = Open(stream, encoding);
        try
        {
            reader.ReadHeader();
            return CsvHeader.Match(reader.Headers, table, findings) is { } header
                ? ReadRows(reader, header, table, findings, cancellation)
                : null;
        }
        catch (CsvFormatException e)
        {
            int line = (int)Math.Max(e.LineNumber, 1);
            findings.Add(CheckCatalog.FileQuoting.At(
                table.File, line, null, null, "quotation marks in pairs",
                $"From line {line} on, {table.File} cannot be read: a quotation mark is not closed, stands inside a cell, "
                    + "or a row is longer than any row can be. Write a quotation mark inside a cell twice, and enclose the cell in quotation marks."));
        }
        catch (DecoderFallbackException)
        {
            findings.Add(CheckCatalog.FileEncoding.InFile(
                table.File, "UTF-8 text",
                $"{table.File} is marked as UTF-16 and holds something else. Save it as CSV in UTF-8."));
        }
        return null;
    }

    private static CsvReader Open(Stream stream, TextEncoding encoding)
    {
        if (encoding == TextEncoding.Utf8)
            return CsvReader.Create(stream, Options, leaveOpen: true);
        UnicodeEncoding strict = new(bigEndian: encoding == TextEncoding.Utf16HighFirst, byteOrderMark: false, throwOnInvalidBytes: true);
        StreamReader text = new(stream, strict, detectEncodingFromByteOrderMarks: false, leaveOpen: true);
        return CsvReader.Create(text, Options, leaveOpen: false);
    }

    private static ExportFile ReadRows(
        CsvReader reader, CsvHeader header, TableDefinition table, List<Finding> findings, CancellationToken cancellation)
    {
        RawColumnBuilder[] columns = [.. header.Positions.Select(p => new RawColumnBuilder(header.Names[p]))];
        int[] others = [.. Enumerable.Range(0, header.Names.Length).Except(header.Positions)];
        RawColumnBuilder[] undeclared = [.. others.Select(p => new RawColumnBuilder(header.Names[p]))];
        ImmutableArray<int>.Builder lines = ImmutableArray.CreateBuilder<int>();
        int ragged = 0;
        while (reader.Read())
        {
            if (lines.Count % RowsBetweenLooks == 0)
                cancellation.ThrowIfCancellationRequested();
            if (reader.FieldCount != header.Names.Length)
            {
                findings.Add(Ragged(table, (int)reader.LineNumber, reader.FieldCount, header.Names.Length));
                ragged++;
                continue;
            }
            lines.Add((int)reader.LineNumber);
            for (int c = 0; c < columns.Length; c++)
                columns[c].Add(reader.GetSpan(header.Positions[c]));
            for (int c = 0; c < undeclared.Length; c++)
                undeclared[c].Add(reader.GetSpan(others[c]));
        }
        if (lines.Count == 0 && ragged == 0)
        {
            findings.Add(CheckCatalog.TableNoRows.InFile(
                table.File, "rows",
                $"{table.File} has a header and no rows: nothing was recorded in {table.Label}."));
        }
        return new ExportFile(table.Name, table.File, [.. columns.Select(c => c.Build())], lines.DrainToImmutable(), ragged)
        {
            Undeclared = [.. undeclared.Select(c => c.Build())],
        };
    }

    private static Finding Ragged(TableDefinition table, int line, int found, int expected)
    {
        string more = found > expected
            ? "A decimal comma, or a comma inside a text that is not enclosed in quotation marks, is the usual cause."
            : "The row may have been cut off.";
        return CheckCatalog.RowFields.At(
            table.File, line, null, null, $"{expected} cells",
            $"Line {line} of {table.File} has {found} cells, the header has {expected}. {more} The row is set aside.");
    }
}
