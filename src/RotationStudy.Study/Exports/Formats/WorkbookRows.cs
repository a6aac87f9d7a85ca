using System.Globalization;
using ExcelDataReader;
using ExcelDataReader.Exceptions;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of one sheet of an XLSX workbook: the first row is the header; rows without any value are left out.</summary>
internal sealed class WorkbookRows : RowSource
{
    private readonly IExcelDataReader reader;
    private readonly string[] header;
    private readonly byte[][] cells;

    // The library looks up a single-byte encoding for the old binary format even when it reads the new one.
    static WorkbookRows() => System.Text.Encoding.RegisterProvider(System.Text.CodePagesEncodingProvider.Instance);

    private WorkbookRows(IExcelDataReader reader, string? sheet)
    {
        this.reader = reader;
        Select(sheet);
        if (!Next())
            throw new UnreadableFileException("its sheet is empty; a table without rows still has its header");
        header = Names();
        cells = new byte[header.Length][];
    }

    internal override IReadOnlyList<string> Header => header;

    internal override int Line => reader.Depth + 1;

    internal override int Cells => header.Length;

    internal static WorkbookRows Open(Stream stream, string? sheet)
    {
        IExcelDataReader? reader = null;
        try
        {
            reader = ExcelReaderFactory.CreateOpenXmlReader(stream, new ExcelReaderConfiguration { LeaveOpen = false });
            return new WorkbookRows(reader, sheet);
        }
        catch (Exception e) when (e is not UnreadableFileException)
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

    internal override bool Read()
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

    internal override ReadOnlySpan<byte> Cell(int position) => cells[position];

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
        catch (Exception e) when (e is ExcelReaderException or System.Xml.XmlException or InvalidDataException or FormatException or OverflowException)
        {
            throw new UnreadableFileException($"it is damaged after row {reader.Depth.ToString(CultureInfo.InvariantCulture)}", e);
        }
    }

    private string[] Names()
    {
        int last = reader.FieldCount;
        while (last > 0 && string.IsNullOrWhiteSpace(reader.GetValue(last - 1)?.ToString()))
            last--;
        if (last == 0)
            throw new UnreadableFileException("its first row is empty; the names of the columns stand there");
        return [.. Enumerable.Range(0, last).Select(i => System.Text.Encoding.UTF8.GetString(CellText.Utf8(reader.GetValue(i))).Trim())];
    }

    private byte[] Value(int position) => position < reader.FieldCount ? CellText.Utf8(reader.GetValue(position)) : [];

    private void RequireNothingBeyond()
    {
        for (int i = cells.Length; i < reader.FieldCount; i++)
        {
            if (Value(i).Length > 0)
                throw new UnreadableFileException($"row {Line.ToString(CultureInfo.InvariantCulture)} has a value beyond the last named column", Line);
        }
    }
}
