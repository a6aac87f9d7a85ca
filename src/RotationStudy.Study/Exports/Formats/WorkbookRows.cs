using System.Globalization;
using System.IO.Compression;
using System.Text;
using ExcelDataReader;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of one sheet of an XLSX workbook: the first row is the header; rows without any value are left out.</summary>
internal sealed class WorkbookRows : RowSource
{
    private readonly IExcelDataReader reader;
    private readonly Dictionary<(int Row, int Column), string> errors;
    private readonly string[] header;
    private readonly byte[][] cells;

    // The library looks up a single-byte encoding for the old binary format even when it reads the new one.
    static WorkbookRows() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    private WorkbookRows(IExcelDataReader reader, ZipArchive parts, string? sheet)
    {
        this.reader = reader;
        Select(sheet);
        errors = WorkbookParts.Errors(parts, reader.Name);
        if (!Next())
            throw new UnreadableFileException("its sheet is empty; a table without rows still has its header");
        header = Names();
        cells = new byte[header.Length][];
    }

    internal override IReadOnlyList<string> Header => header;

    protected internal override int Line => reader.Depth + 1;

    protected internal override int Cells => header.Length;

    internal static WorkbookRows Open(Stream stream, string? sheet)
    {
        IExcelDataReader? reader = null;
        try
        {
            using ZipArchive parts = new(stream, ZipArchiveMode.Read, leaveOpen: true);
            WorkbookParts.RequireMeasure(parts);
            stream.Position = 0;
            reader = ExcelReaderFactory.CreateOpenXmlReader(stream, new ExcelReaderConfiguration { LeaveOpen = false });
            return new WorkbookRows(reader, parts, sheet);
        }
        catch (Exception e) when (e is not (UnreadableFileException or OperationCanceledException))
        {
            reader?.Dispose();
            throw new UnreadableFileException("it is no XLSX workbook, or is damaged or locked by a password", e);
        }
        catch
        {
            reader?.Dispose();
            throw;
        }
    }

    protected internal override bool Read()
    {
        while (Next())
        {
            bool any = false;
            for (int i = 0; i < cells.Length; i++)
            {
                cells[i] = Value(i);
                any |= cells[i].Length > 0;
            }
            RequireNothingBeyond();
            if (any)
                return true;
        }
        return false;
    }

    protected internal override ReadOnlySpan<byte> Cell(int position) => cells[position];

    public override void Dispose() => reader.Dispose();

    private void Select(string? sheet)
    {
        List<string> names = [];
        do
        {
            if (sheet is null || string.Equals(reader.Name, sheet, StringComparison.OrdinalIgnoreCase))
                return;
            names.Add(reader.Name);
        }
        while (reader.NextResult());
        throw new UnreadableFileException($"it has no sheet '{sheet}'; its sheets are {string.Join(", ", names)}");
    }

    private bool Next()
    {
        try
        {
            return reader.Read();
        }
        catch (Exception e) when (e is not (OperationCanceledException or OutOfMemoryException))
        {
            // The library throws many types on damaged sheets.
            throw new UnreadableFileException($"it is damaged after row {reader.Depth.ToString(CultureInfo.InvariantCulture)}", e);
        }
    }

    private string[] Names()
    {
        int last = reader.FieldCount;
        while (last > 0 && Value(last - 1).AsSpan().Trim((byte)' ').IsEmpty)
            last--;
        if (last == 0)
            throw new UnreadableFileException("its first row is empty; the names of the columns stand there");
        return [.. Enumerable.Range(0, last).Select(i => Encoding.UTF8.GetString(Value(i)).Trim())];
    }

    // A formula that failed is no empty cell: its error stands there, and the checks report it.
    private byte[] Value(int position)
        => errors.Count > 0 && errors.TryGetValue((Line, position), out string? error) ? Encoding.UTF8.GetBytes(error)
            : position < reader.FieldCount ? CellText.Utf8(reader.GetValue(position))
            : [];

    private void RequireNothingBeyond()
    {
        for (int i = cells.Length; i < reader.FieldCount; i++)
        {
            if (Value(i).Length > 0)
                throw new UnreadableFileException("a value stands beyond the last named column", Line);
        }
    }
}
