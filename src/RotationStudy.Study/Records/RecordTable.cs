using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Records;

/// <summary>The checked rows of one table: typed columns of equal length, and where each row came from.</summary>
/// <remarks>
/// Columns, not objects: statistics read spans. A column of checked records is made when it is first asked for, so that the columns
/// that a plan does not use cost no memory.
/// </remarks>
public sealed class RecordTable
{
    private readonly ImmutableArray<Lazy<RecordColumn>> columns;
    private readonly Lazy<ImmutableArray<RecordColumn>> all;

    /// <summary>A table of columns that are there.</summary>
    /// <param name="definition">The table as the protocol declares it.</param>
    /// <param name="rows">Number of rows kept.</param>
    /// <param name="columns">One column per declared column, in declared order.</param>
    /// <param name="sourceLines">Line in the export file of each kept row.</param>
    public RecordTable(TableDefinition definition, int rows, ImmutableArray<RecordColumn> columns, ImmutableArray<int> sourceLines)
        : this(definition, rows, [.. columns.Select(c => new Lazy<RecordColumn>(c))], sourceLines)
    {
    }

    internal RecordTable(TableDefinition definition, int rows, ImmutableArray<Lazy<RecordColumn>> columns, ImmutableArray<int> sourceLines)
    {
        (Definition, Rows, this.columns, SourceLines) = (definition, rows, columns, sourceLines);
        all = new Lazy<ImmutableArray<RecordColumn>>(() => [.. columns.Select(c => c.Value)]);
    }

    /// <summary>The table as the protocol declares it.</summary>
    public TableDefinition Definition { get; }

    /// <summary>Number of rows kept.</summary>
    public int Rows { get; }

    /// <summary>Line in the export file of each kept row, from 1 (the header is line 1).</summary>
    public ImmutableArray<int> SourceLines { get; }

    /// <summary>One column per declared column, in declared order. A column the export lacks is all missing.</summary>
    public ImmutableArray<RecordColumn> Columns => all.Value;

    /// <summary>The column of that name.</summary>
    /// <exception cref="KeyNotFoundException">The protocol declares no such column.</exception>
    public RecordColumn this[string column]
    {
        get
        {
            for (int i = 0; i < columns.Length; i++)
            {
                if (Definition.Columns[i].Name == column)
                    return columns[i].Value;
            }
            throw new KeyNotFoundException($"Table '{Definition.Name}' has no column '{column}'.");
        }
    }
}

/// <summary>One typed column. A cell is a value, or missing for a reason.</summary>
/// <param name="Definition">The column as the protocol declares it.</param>
/// <param name="Missing">Per row: 0 for a value, else 1 + index into <see cref="MissingReasons"/>.</param>
/// <param name="MissingReasons">Reasons that occur, such as "not recorded", "not done", "value set aside: out of range".</param>
public abstract record RecordColumn(
    ColumnDefinition Definition, ImmutableArray<byte> Missing, ImmutableArray<string> MissingReasons)
{
    /// <summary>Whether the row has a value.</summary>
    public bool HasValue(int row) => Missing[row] == 0;

    /// <summary>Why the row has no value, or null when it has one.</summary>
    public string? MissingReason(int row) => Missing[row] == 0 ? null : MissingReasons[Missing[row] - 1];
}

/// <summary>A column of numbers (types Number and WholeNumber).</summary>
/// <param name="Definition">See <see cref="RecordColumn"/>.</param>
/// <param name="Missing">See <see cref="RecordColumn"/>.</param>
/// <param name="MissingReasons">See <see cref="RecordColumn"/>.</param>
/// <param name="Values">Values; 0 where missing, so look at <see cref="RecordColumn.Missing"/> first.</param>
public sealed record NumberColumn(
    ColumnDefinition Definition, ImmutableArray<byte> Missing, ImmutableArray<string> MissingReasons, ImmutableArray<double> Values)
    : RecordColumn(Definition, Missing, MissingReasons);

/// <summary>A column of codes.</summary>
/// <param name="Definition">See <see cref="RecordColumn"/>.</param>
/// <param name="Missing">See <see cref="RecordColumn"/>.</param>
/// <param name="MissingReasons">See <see cref="RecordColumn"/>.</param>
/// <param name="Indices">Position in <see cref="ColumnDefinition.Codes"/>; 0 where missing.</param>
public sealed record CodeColumn(
    ColumnDefinition Definition, ImmutableArray<byte> Missing, ImmutableArray<string> MissingReasons, ImmutableArray<int> Indices)
    : RecordColumn(Definition, Missing, MissingReasons);

/// <summary>A column of identifiers.</summary>
/// <param name="Definition">See <see cref="RecordColumn"/>.</param>
/// <param name="Missing">See <see cref="RecordColumn"/>.</param>
/// <param name="MissingReasons">See <see cref="RecordColumn"/>.</param>
/// <param name="Values">Text; empty where missing.</param>
public sealed record IdentifierColumn(
    ColumnDefinition Definition, ImmutableArray<byte> Missing, ImmutableArray<string> MissingReasons, ImmutableArray<string> Values)
    : RecordColumn(Definition, Missing, MissingReasons);
