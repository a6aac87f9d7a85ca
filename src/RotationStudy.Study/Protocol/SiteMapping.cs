using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>mappings/SITE.yaml: how the files of one site become the tables of the protocol.</summary>
/// <param name="Site">Code of the site; its files lie in a folder of that name inside the export.</param>
/// <param name="Tables">One per table that the site sends; a table may be put together from several files.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record SiteMapping(string Site, ImmutableArray<TableMapping> Tables, Place Place);

/// <summary>How one file of a site becomes rows of one table.</summary>
/// <param name="Table">Table of the protocol.</param>
/// <param name="File">Name of the site's file: .csv, .xlsx, .parquet or .json (Dataset-JSON 1.1).</param>
/// <param name="Layout">How the file is written.</param>
/// <param name="Missing">What the site writes for a value that is not recorded, beside an empty cell.</param>
/// <param name="Columns">Columns of every row.</param>
/// <param name="Rows">Rows made from one row of the file, such as one a side: each adds columns to those of every row. Empty: one row.</param>
/// <param name="Ignore">Columns of the file that are left out on purpose.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record TableMapping(
    string Table,
    string File,
    FileLayout Layout,
    ImmutableArray<string> Missing,
    ImmutableArray<ColumnMapping> Columns,
    ImmutableArray<RowMapping> Rows,
    ImmutableArray<IgnoredColumn> Ignore,
    Place Place)
{
    /// <summary>What each row made from a row of the file adds; one empty addition where one row stays one row.</summary>
    internal IEnumerable<ImmutableArray<ColumnMapping>> RowsOrOne() => Rows.IsEmpty ? [[]] : Rows.Select(r => r.Columns);
}

/// <summary>How a file is written.</summary>
/// <param name="Sheet">Sheet of a workbook; null for its first.</param>
/// <param name="Separator">What stands between the cells of a text file.</param>
/// <param name="Encoding">How letters of a text file are written.</param>
/// <param name="DecimalComma">Whether numbers have a decimal comma.</param>
public sealed record FileLayout(string? Sheet, char Separator, FileEncoding Encoding, bool DecimalComma)
{
    /// <summary>First sheet, commas, UTF-8, decimal points.</summary>
    public static FileLayout Default { get; } = new(null, ',', FileEncoding.Utf8, false);
}

/// <summary>How letters are written as bytes.</summary>
public enum FileEncoding
{
    /// <summary>UTF-8, with or without a mark.</summary>
    Utf8,

    /// <summary>UTF-16 with its mark.</summary>
    Utf16,

    /// <summary>ISO 8859-1.</summary>
    Latin1,

    /// <summary>Windows code page 1252.</summary>
    Western,
}

/// <summary>Separators by name.</summary>
public enum CellSeparator
{
    /// <summary>Comma.</summary>
    Comma,

    /// <summary>Semicolon.</summary>
    Semicolon,

    /// <summary>Tab.</summary>
    Tab,

    /// <summary>Upright stroke.</summary>
    Stroke,
}

/// <summary>Where the values of one column of the protocol come from.</summary>
/// <param name="Column">Column of the protocol's table.</param>
/// <param name="From">Column of the site's file; null where the value is always the same.</param>
/// <param name="Always">The value of every row, in the words of the protocol; null where it comes from the file.</param>
/// <param name="Unit">Unit in the site's file; null for the unit of the protocol.</param>
/// <param name="Codes">The site's codes and those of the protocol; a code that is not listed passes as it is.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record ColumnMapping(
    string Column, string? From, string? Always, string? Unit, ImmutableArray<CodeTranslation> Codes, Place Place);

/// <summary>A code of a site and the protocol's code for it.</summary>
/// <param name="From">As the site writes it.</param>
/// <param name="To">As the protocol does.</param>
public sealed record CodeTranslation(string From, string To);

/// <summary>One of several rows made from a row of the file.</summary>
/// <param name="Columns">Columns of this row beside those of every row.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record RowMapping(ImmutableArray<ColumnMapping> Columns, Place Place);

/// <summary>A column of a site's file that is left out on purpose.</summary>
/// <param name="Name">Its name in the file.</param>
/// <param name="Reason">Why.</param>
public sealed record IgnoredColumn(string Name, string Reason);
