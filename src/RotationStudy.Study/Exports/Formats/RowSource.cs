namespace RotationStudy.Study.Exports.Formats;

/// <summary>The rows of one file, whatever its format: a header, and cells as text in UTF-8, one row at a time.</summary>
internal abstract class RowSource : IDisposable
{
    /// <summary>Names of the columns, blanks around them removed.</summary>
    internal abstract IReadOnlyList<string> Header { get; }

    /// <summary>Where the row stands in its file: a line of text, a row of a sheet, a record; the header is 1 where there is one.</summary>
    internal abstract int Line { get; }

    /// <summary>Number of cells of the row.</summary>
    internal abstract int Cells { get; }

    /// <summary>Goes to the next row; false after the last.</summary>
    /// <exception cref="UnreadableFileException">The file breaks off or is no file of its format.</exception>
    internal abstract bool Read();

    /// <summary>A cell of the row, in UTF-8; empty where nothing stands. Valid until the next row is read.</summary>
    internal abstract ReadOnlySpan<byte> Cell(int position);

    /// <inheritdoc/>
    public abstract void Dispose();
}

/// <summary>A file that cannot be read in its format; the message is for the site.</summary>
internal sealed class UnreadableFileException : Exception
{
    internal UnreadableFileException(string message, int line = 0)
        : base(message) => Line = line;

    internal UnreadableFileException(string message, Exception inner)
        : base(message, inner)
    {
    }

    /// <summary>Line from which on nothing can be read; 0 for the whole file.</summary>
    internal int Line { get; }
}
