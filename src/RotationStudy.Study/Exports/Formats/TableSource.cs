using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>One file, whatever its format: the names of its columns, then all its cells as text in UTF-8, column by column.</summary>
internal abstract class TableSource : IDisposable
{
    /// <summary>Names of the columns.</summary>
    internal abstract IReadOnlyList<string> Header { get; }

    /// <summary>Reads all rows.</summary>
    /// <param name="file">Name of the file in findings.</param>
    /// <param name="positions">The columns wanted.</param>
    /// <param name="reading">Gathers findings.</param>
    /// <exception cref="UnreadableFileException">The file breaks off or is no file of its format.</exception>
    internal abstract RawTable Rows(string file, IReadOnlyList<int> positions, ExportReading reading);

    /// <inheritdoc/>
    public abstract void Dispose();
}

/// <summary>The rows of one file, nothing judged yet.</summary>
/// <param name="Columns">The wanted columns, in the order in which they were wanted, with the names of the header.</param>
/// <param name="Lines">Where each row stands: a line of text, a row of a sheet, a record; the header is 1 where there is one.</param>
/// <param name="RaggedRows">Rows with too many or too few cells: counted, reported and not among the rows.</param>
internal sealed record RawTable(ImmutableArray<RawColumn> Columns, ImmutableArray<int> Lines, int RaggedRows);

/// <summary>A file that cannot be read in its format; the message is for the site.</summary>
internal sealed class UnreadableFileException : Exception
{
    internal UnreadableFileException(string message, int line = 0, CheckRule? rule = null)
        : base(message) => (Line, Rule) = (line, rule ?? CheckCatalog.FileUnreadable);

    internal UnreadableFileException(string message, Exception inner)
        : base(message, inner) => Rule = CheckCatalog.FileUnreadable;

    /// <summary>Line from which on nothing can be read; 0 for the whole file.</summary>
    internal int Line { get; }

    /// <summary>What is wrong.</summary>
    internal CheckRule Rule { get; }
}
