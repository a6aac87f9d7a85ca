using System.Collections.Immutable;
using System.Runtime.InteropServices;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Archive;

/// <summary>A table of checked records as a file of an archive, and back.</summary>
/// <remarks>
/// Codes are written as the protocol writes them, whole numbers as 64-bit whole numbers, other numbers bit by bit. A cell
/// without a value is absent, and where a column has any, a column beside it says why for each. The line of the export
/// stands in <see cref="LineColumn"/>.
/// </remarks>
internal static class RecordFile
{
    /// <summary>Name of the column with the line of each row in its export file.</summary>
    internal const string LineColumn = "export_line";

    private const string ReasonSuffix = "_missing_because";

    internal static ArchiveFile Of(RecordTable table, StudyProtocol protocol)
    {
        List<ArchiveColumn> columns = [new WholeNumbers(Free(LineColumn, table.Definition), [.. table.SourceLines.Select(l => (long?)l)])];
        foreach (RecordColumn column in table.Columns)
        {
            columns.Add(Values(column, table.Rows));
            if (table.Rows > 0 && column.Missing.AsSpan().ContainsAnyExcept((byte)0))
                columns.Add(new Texts(Reasons(column.Definition, table.Definition), [.. Enumerable.Range(0, table.Rows).Select(column.MissingReason)]));
        }
        return new ArchiveFile(columns, TableMetadata.Of(table.Definition, protocol, c => Reasons(c, table.Definition)));
    }

    /// <summary>The records of a file.</summary>
    /// <exception cref="InvalidDataException">The file does not hold what the protocol declares.</exception>
    internal static RecordTable Read(ArchiveFile file, TableDefinition definition)
    {
        if (file.Column(Free(LineColumn, definition)) is not WholeNumbers lines)
            throw new InvalidDataException($"its column '{LineColumn}' is missing");
        return new RecordTable(
            definition,
            file.Rows,
            [.. definition.Columns.Select(c => ReadColumn(file, c, definition))],
            ImmutableCollectionsMarshal.AsImmutableArray(Array.ConvertAll(lines.Values, l => checked((int)l!.Value))));
    }

    private static ArchiveColumn Values(RecordColumn column, int rows)
    {
        string name = column.Definition.Name;
        return column switch
        {
            // A whole number beyond 2^53 has no exact neighbour; such a column stays as it is.
            NumberColumn { Definition.Type: ColumnType.WholeNumber } whole when whole.Values.All(v => Math.Abs(v) < 1L << 53 && Math.Floor(v) == v)
                => new WholeNumbers(name, Cells<long>(whole, rows, r => (long)whole.Values[r])),
            NumberColumn number => new Numbers(name, Cells<double>(number, rows, r => number.Values[r])),
            CodeColumn code => new Texts(name, [.. Enumerable.Range(0, rows).Select(r => code.HasValue(r) ? code.Definition.Codes[code.Indices[r]].Code : null)]),
            IdentifierColumn text => new Texts(name, [.. Enumerable.Range(0, rows).Select(r => text.HasValue(r) ? text.Values[r] : null)]),
            _ => throw new ArgumentException($"No file can hold a {column.GetType().Name}.", nameof(column)),
        };
    }

    private static T?[] Cells<T>(RecordColumn column, int rows, Func<int, T> value)
        where T : struct
    {
        T?[] cells = new T?[rows];
        for (int row = 0; row < rows; row++)
            cells[row] = column.HasValue(row) ? value(row) : null;
        return cells;
    }

    private static RecordColumn ReadColumn(ArchiveFile file, ColumnDefinition definition, TableDefinition table)
    {
        ArchiveColumn cells = file.Column(definition.Name) ?? throw new InvalidDataException($"its column '{definition.Name}' is missing");
        string?[]? why = (file.Column(Reasons(definition, table)) as Texts)?.Values;
        string[] reasons = [.. (why ?? []).OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        Dictionary<string, byte> numbers = reasons.Select((r, i) => (r, i)).ToDictionary(p => p.r, p => checked((byte)(p.i + 1)), StringComparer.Ordinal);
        byte[] missing = new byte[file.Rows];
        for (int row = 0; row < missing.Length; row++)
            missing[row] = why?[row] is { } reason ? numbers[reason] : (byte)0;
        ImmutableArray<byte> absent = ImmutableCollectionsMarshal.AsImmutableArray(missing);
        ImmutableArray<string> shared = ImmutableCollectionsMarshal.AsImmutableArray(reasons);
        return (cells, definition.Type) switch
        {
            (WholeNumbers whole, ColumnType.WholeNumber) => new NumberColumn(definition, absent, shared, Filled(whole.Values, absent, definition, v => (double)v!.Value)),
            (Numbers real, ColumnType.Number or ColumnType.WholeNumber) => new NumberColumn(definition, absent, shared, Filled(real.Values, absent, definition, v => v!.Value)),
            (Texts text, ColumnType.Code) => new CodeColumn(definition, absent, shared, Positions(text.Values, absent, definition)),
            (Texts text, ColumnType.Identifier) => new IdentifierColumn(definition, absent, shared, [.. Filled(text.Values, absent, definition, v => v!).Select(v => v ?? string.Empty)]),
            _ => throw new InvalidDataException($"its column '{definition.Name}' is of another type than the protocol says"),
        };
    }

    private static ImmutableArray<int> Positions(string?[] cells, ImmutableArray<byte> absent, ColumnDefinition definition)
    {
        Dictionary<string, int> positions = definition.Codes.Select((c, i) => (c.Code, i)).ToDictionary(p => p.Code, p => p.i, StringComparer.Ordinal);
        return Filled(cells, absent, definition, v => positions.TryGetValue(v!, out int at)
            ? at
            : throw new InvalidDataException($"its column '{definition.Name}' holds a code that the protocol does not declare"));
    }

    /// <summary>Turns cells into values; a cell must be there exactly where no reason says why not.</summary>
    private static ImmutableArray<TTo> Filled<TFrom, TTo>(TFrom[] cells, ImmutableArray<byte> absent, ColumnDefinition definition, Func<TFrom, TTo> value)
    {
        TTo[] values = new TTo[cells.Length];
        for (int row = 0; row < cells.Length; row++)
        {
            if (cells[row] is null != (absent[row] != 0))
                throw new InvalidDataException($"row {row + 1} of its column '{definition.Name}' is empty without a reason, or filled with one");
            if (cells[row] is not null)
                values[row] = value(cells[row]);
        }
        return ImmutableCollectionsMarshal.AsImmutableArray(values);
    }

    private static string Reasons(ColumnDefinition column, TableDefinition table) => Free(column.Name + ReasonSuffix, table);

    /// <summary>A name that the table does not use itself.</summary>
    private static string Free(string name, TableDefinition table)
    {
        while (table.Column(name) is not null)
            name += "_";
        return name;
    }
}
