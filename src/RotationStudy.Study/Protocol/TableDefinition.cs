using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>A table that an export may or must hold, one file each.</summary>
/// <param name="Name">Name of the table.</param>
/// <param name="Label">Name in the report.</param>
/// <param name="File">File name in the export folder, such as participants.csv.</param>
/// <param name="Required">Whether a run stops when the file is missing.</param>
/// <param name="IsRoster">Whether this table lists the participants; the others must refer to it. None where no table does.</param>
/// <param name="Key">Columns that name a row uniquely, in order.</param>
/// <param name="Columns">Columns in their order.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record TableDefinition(
    string Name,
    string Label,
    string File,
    bool Required,
    bool IsRoster,
    ImmutableArray<string> Key,
    ImmutableArray<ColumnDefinition> Columns,
    Place Place)
{
    /// <summary>The column of that name, or null.</summary>
    public ColumnDefinition? Column(string name) => Columns.FirstOrDefault(c => c.Name == name);

    /// <summary>The column that plays a part, or null.</summary>
    public ColumnDefinition? Column(ColumnRole role) => Columns.FirstOrDefault(c => c.Role == role);
}

/// <summary>What a column is for, beyond its value.</summary>
public enum ColumnRole
{
    /// <summary>A measured or recorded value.</summary>
    Value,

    /// <summary>Identifier of the participant: the cluster of every analysis.</summary>
    Participant,

    /// <summary>Site of the participant.</summary>
    Site,

    /// <summary>Scheduled visit.</summary>
    Visit,

    /// <summary>Left or right.</summary>
    Side,

    /// <summary>Who measured.</summary>
    Rater,

    /// <summary>Day since enrolment on which the row's facts were recorded or happened.</summary>
    Day,

    /// <summary>A running number or another part of the key that is none of the above.</summary>
    Sequence,
}

/// <summary>The type of a column's values.</summary>
public enum ColumnType
{
    /// <summary>An identifier, kept as text.</summary>
    Identifier,

    /// <summary>One of the listed codes.</summary>
    Code,

    /// <summary>A real number.</summary>
    Number,

    /// <summary>A whole number.</summary>
    WholeNumber,
}

/// <summary>One column of a table.</summary>
/// <param name="Name">Name as the export writes it.</param>
/// <param name="Label">Name in the report.</param>
/// <param name="Type">Type of the values.</param>
/// <param name="Role">What it is for.</param>
/// <param name="Unit">Unit of the values; null for codes, identifiers and pure numbers.</param>
/// <param name="Possible">Values outside cannot be true: set aside. Null for no limit.</param>
/// <param name="Plausible">Values outside are asked about and used. Null for no limit.</param>
/// <param name="Codes">Allowed codes with their meaning, in order; empty unless the type is Code.</param>
/// <param name="MissingCodes">What stands for a missing value, with the reason; an empty cell is always "not recorded" unless listed here.</param>
/// <param name="Required">Whether a missing value is asked about.</param>
/// <param name="Method">How it is measured; null where the label says all.</param>
/// <param name="Source">Where ranges and definition come from, or "common practice, no source".</param>
/// <param name="Place">Where it is declared.</param>
public sealed record ColumnDefinition(
    string Name,
    string Label,
    ColumnType Type,
    ColumnRole Role,
    string? Unit,
    ValueRange? Possible,
    ValueRange? Plausible,
    ImmutableArray<CodeDefinition> Codes,
    ImmutableArray<CodeDefinition> MissingCodes,
    bool Required,
    string? Method,
    string? Source,
    Place Place);

/// <summary>A closed range.</summary>
/// <param name="Lowest">Lowest value.</param>
/// <param name="Highest">Highest value.</param>
public sealed record ValueRange(double Lowest, double Highest)
{
    /// <summary>Whether the value lies within, ends included.</summary>
    public bool Holds(double value) => value >= Lowest && value <= Highest;
}

/// <summary>A code and what it means.</summary>
/// <param name="Code">As written in the export.</param>
/// <param name="Meaning">In the report.</param>
public sealed record CodeDefinition(string Code, string Meaning);
