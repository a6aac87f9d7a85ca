using System.Globalization;
using Parquet;
using Parquet.Schema;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>A flat Parquet file, one column of one row group at a time.</summary>
internal sealed class ParquetTable : TableSource
{
    /// <summary>A few bytes of such a file can promise any number of rows; no writer makes groups as large as this.</summary>
    private const long MostRowsOfGroup = 1 << 24;

    private const long MostRows = 1 << 28;

    /// <summary>Keys differ from row to row, so no packing puts more rows into a byte.</summary>
    private const long MostRowsOfByte = 64;

    private const int LongestNumber = 64;

    private readonly ParquetReader reader;
    private readonly DataField[] fields;
    private readonly long length;

    private ParquetTable(ParquetReader reader, long length)
    {
        this.reader = reader;
        this.length = length;
        if (reader.Schema.Fields.FirstOrDefault(f => f is not DataField { IsArray: false }) is { } nested)
            throw new UnreadableFileException($"its column '{nested.Name}' holds lists or groups; a table has one value a cell");
        fields = reader.Schema.GetDataFields();
        Header = [.. fields.Select(f => f.Name.Trim())];
    }

    internal override IReadOnlyList<string> Header { get; }

    internal static ParquetTable Open(Stream stream) => Guarded(() =>
    {
        ParquetFooter.Require(stream);
        ParquetReader reader = ParquetReader.CreateAsync(stream, new ParquetOptions { UseDateOnlyTypeForDates = true }, leaveStreamOpen: false).GetAwaiter().GetResult();
        try
        {
            return new ParquetTable(reader, stream.Length);
        }
        catch
        {
            Close(reader);
            throw;
        }
    });

    internal override RawTable Rows(string file, IReadOnlyList<int> positions, ExportReading reading)
    {
        RawColumnBuilder[] columns = [.. positions.Select(p => new RawColumnBuilder(Header[p]))];
        long rows = 0;
        for (int group = 0; group < reader.RowGroupCount; group++)
        {
            reading.Reached(file, (int)rows);
            rows += Guarded(() => ReadGroup(group, positions, columns));
            if (rows > MostRows)
                throw new UnreadableFileException("it has more rows than any table can have");
        }
        // Records are counted like lines below a header.
        return new RawTable([.. columns.Select(c => c.Build())], [.. Enumerable.Range(2, (int)rows)], 0);
    }

    public override void Dispose() => Close(reader);

    private static void Close(ParquetReader reader) => reader.DisposeAsync().AsTask().GetAwaiter().GetResult();

    private int ReadGroup(int group, IReadOnlyList<int> positions, RawColumnBuilder[] columns)
    {
        using ParquetRowGroupReader rows = reader.OpenRowGroupReader(group);
        if (rows.RowCount is < 0 or > MostRowsOfGroup || rows.RowCount > MostRowsOfByte * length)
            throw new UnreadableFileException(string.Create(CultureInfo.InvariantCulture, $"a group of its rows is said to have {rows.RowCount}; write groups of a million or fewer"));
        int count = (int)rows.RowCount;
        for (int i = 0; i < columns.Length; i++)
            ReadColumn(rows, fields[positions[i]], count, columns[i]);
        return count;
    }

    private static void ReadColumn(ParquetRowGroupReader rows, DataField field, int count, RawColumnBuilder column)
    {
        Type type = Nullable.GetUnderlyingType(field.ClrType) ?? field.ClrType;
        if (type == typeof(string) || type == typeof(ReadOnlyMemory<char>))
        {
            string?[] texts = new string?[count];
            rows.ReadAsync(field, texts.AsMemory()!).AsTask().GetAwaiter().GetResult();
            foreach (string? text in texts)
                column.Add(CellText.Utf8(text));
            return;
        }
        switch (Type.GetTypeCode(type))
        {
            case TypeCode.Double:
                Values<double>(rows, field, count, column);
                break;
            case TypeCode.Single:
                Values<float>(rows, field, count, column);
                break;
            case TypeCode.Int32:
                Values<int>(rows, field, count, column);
                break;
            case TypeCode.Int64:
                Values<long>(rows, field, count, column);
                break;
            case TypeCode.Int16:
                Values<short>(rows, field, count, column);
                break;
            case TypeCode.Byte:
                Values<byte>(rows, field, count, column);
                break;
            case TypeCode.SByte:
                Values<sbyte>(rows, field, count, column);
                break;
            case TypeCode.UInt16:
                Values<ushort>(rows, field, count, column);
                break;
            case TypeCode.UInt32:
                Values<uint>(rows, field, count, column);
                break;
            case TypeCode.UInt64:
                Values<ulong>(rows, field, count, column);
                break;
            case TypeCode.Decimal:
                Values<decimal>(rows, field, count, column);
                break;
            case TypeCode.Boolean:
                Values<bool>(rows, field, count, column);
                break;
            case TypeCode.DateTime:
                Values<DateTime>(rows, field, count, column);
                break;
            default:
                if (type != typeof(DateOnly))
                    throw new UnreadableFileException($"its column '{field.Name}' is of the type {type.Name}; use text, numbers or true and false");
                Values<DateOnly>(rows, field, count, column);
                break;
        }
    }

    private static void Values<T>(ParquetRowGroupReader rows, DataField field, int count, RawColumnBuilder column)
        where T : struct
    {
        T?[] values = new T?[count];
        rows.ReadAsync<T>(field, values.AsMemory()).AsTask().GetAwaiter().GetResult();
        Span<byte> space = stackalloc byte[LongestNumber];
        foreach (T? value in values)
            column.Add(value is { } there ? CellText.Write(there, space) : []);
    }

    private static T Guarded<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception e) when (e is not (UnreadableFileException or UnauthorizedAccessException or FileNotFoundException or OperationCanceledException))
        {
            // The library throws many types on damaged bytes: out of range, null reference, end of stream.
            throw new UnreadableFileException("it is no Parquet file, or is damaged", e);
        }
    }
}
