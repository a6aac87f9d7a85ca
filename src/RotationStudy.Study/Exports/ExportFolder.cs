using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Exports;

/// <summary>The files of an export as they were read: text cells by column, nothing judged yet.</summary>
/// <param name="Files">One per declared table whose file is there and could be read, in declared order.</param>
/// <param name="Findings">What the files themselves are at fault for.</param>
/// <param name="Hashes">Every declared file that is there, readable or not, in ordinal order of name.</param>
public sealed record ExportFolder(
    ImmutableArray<ExportFile> Files, ImmutableArray<Finding> Findings, ImmutableArray<Protocol.FileHash> Hashes)
{
    /// <summary>Participants who withdrew consent and were removed.</summary>
    public int Withdrawn { get; init; }

    /// <summary>The file of a table, or null.</summary>
    public ExportFile? Of(string table) => Files.FirstOrDefault(f => f.Table == table);
}

/// <summary>The rows of one file.</summary>
/// <param name="Table">Table it belongs to.</param>
/// <param name="Name">File name.</param>
/// <param name="Columns">The declared columns that the file has, in the order of the file.</param>
/// <param name="Lines">Line of each row, from 1 (the header is line 1).</param>
/// <param name="RaggedRows">Rows with too many or too few cells: counted, reported and not among the rows.</param>
public sealed record ExportFile(string Table, string Name, ImmutableArray<RawColumn> Columns, ImmutableArray<int> Lines, int RaggedRows)
{
    /// <summary>Columns that the protocol does not declare: only the guard against identifying data looks at them.</summary>
    internal ImmutableArray<RawColumn> Undeclared { get; init; } = [];

    /// <summary>Where rows come from when several files make up the table; empty when all come from the file of that name.</summary>
    public ImmutableArray<FilePart> Parts { get; init; } = [];

    /// <summary>Rows of participants who withdrew consent: removed, counted and not among the rows.</summary>
    public int WithdrawnRows { get; init; }

    /// <summary>Number of rows with a cell for every column.</summary>
    public int Rows => Lines.Length;

    /// <summary>The column of that name, or null when the file lacks it.</summary>
    public RawColumn? Column(string name) => Columns.FirstOrDefault(c => c.Name == name);

    /// <summary>The file that a row comes from.</summary>
    public string FileOf(int row)
    {
        int part = Parts.Length - 1;
        while (part >= 0 && Parts[part].FirstRow > row)
            part--;
        return part < 0 ? Name : Parts[part].File;
    }
}

/// <summary>Rows that come from one file, up to the first row of the next part.</summary>
/// <param name="File">File name, relative to the export folder.</param>
/// <param name="FirstRow">Its first row, from 0.</param>
public sealed record FilePart(string File, int FirstRow);
