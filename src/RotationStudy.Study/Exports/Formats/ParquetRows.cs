using Parquet;
using Parquet.Schema;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>Rows of a flat Parquet file, one row group at a time.</summary>
internal sealed class ParquetRows : RowSource
{
    private readonly ParquetReader reader;
    private readonly DataField[] fields;
    private byte[][][] columns = [];
    private int group = -1;
    private int rowsInGroup;
    private int row = -1;
    private int line = 1;

    private ParquetRows(ParquetReader reader)
    {
        this.reader = reader;
        if (reader.Schema.Fields.FirstOrDefault(f => f is not DataField) is { } nested)
            throw new UnreadableFileException($"its column '{nested.Name}' holds lists or groups; a table has one value a cell");
        fields = reader.Schema.GetDataFields();
        Header = [.. fields.Select(f => f.Name.Trim())];
    }

    internal override IReadOnlyList<string> Header { get; }

    internal override int Line => line;

    internal override int Cells => fields.Length;

    internal static ParquetRows Open(Stream stream)
        => Guarded(() => new ParquetRows(ParquetReader.CreateAsync(stream, new ParquetOptions { UseDateOnlyTypeForDates = true }, leaveStreamOpen: false).GetAwaiter().GetResult()));

    internal override bool Read()
    {
        while (++row >= rowsInGroup)
        {
            if (++group >= reader.RowGroupCount)
                return false;
            Guarded(LoadGroup);
            row = -1;
        }
        line++;
        return true;
    }

    internal override ReadOnlySpan<byte> Cell(int position) => columns[position][row];

    public override void Dispose() => reader.DisposeAsync().AsTask().GetAwaiter().GetResult();

    private bool LoadGroup()
    {
        using ParquetRowGroupReader rows = reader.OpenRowGroupReader(group);
        rowsInGroup = checked((int)rows.RowCount);
        columns = [.. fields.Select(f => ReadColumn(rows, f, rowsInGroup))];
        return true;
    }

    private static byte[][] ReadColumn(ParquetRowGroupReader rows, DataField field, int count)
    {
        Type type = Nullable.GetUnderlyingType(field.ClrType) ?? field.ClrType;
        if (type == typeof(string) || type == typeof(ReadOnlyMemory<char>))
        {
            string?[] texts = new string?[count];
            rows.ReadAsync(field, texts.AsMemory()!).AsTask().GetAwaiter().GetResult();
            return [.. texts.Select(CellText.Utf8)];
        }
        return Type.GetTypeCode(type) switch
        {
            TypeCode.Double => Values<double>(rows, field, count),
            TypeCode.Single => Values<float>(rows, field, count),
            TypeCode.Int32 => Values<int>(rows, field, count),
            TypeCode.Int64 => Values<long>(rows, field, count),
            TypeCode.Int16 => Values<short>(rows, field, count),
            TypeCode.Byte => Values<byte>(rows, field, count),
            TypeCode.SByte => Values<sbyte>(rows, field, count),
            TypeCode.UInt16 => Values<ushort>(rows, field, count),
            TypeCode.UInt32 => Values<uint>(rows, field, count),
            TypeCode.UInt64 => Values<ulong>(rows, field, count),
            TypeCode.Decimal => Values<decimal>(rows, field, count),
            TypeCode.Boolean => Values<bool>(rows, field, count),
            TypeCode.DateTime => Values<DateTime>(rows, field, count),
            _ when type == typeof(DateOnly) => Values<DateOnly>(rows, field, count),
            _ => throw new UnreadableFileException($"its column '{field.Name}' is of the type {type.Name}; use text, numbers or true and false"),
        };
    }

    private static byte[][] Values<T>(ParquetRowGroupReader rows, DataField field, int count)
        where T : struct
    {
        T?[] values = new T?[count];
        rows.ReadAsync<T>(field, values.AsMemory()).AsTask().GetAwaiter().GetResult();
        return [.. values.Select(v => CellText.Utf8(v))];
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
