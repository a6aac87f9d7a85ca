using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Exports.Formats;

/// <summary>A file that is read row by row.</summary>
/// <remarks>
/// Rows are copied in batches. While one core reads a batch the other sorts the one before it into columns; the order is that of the
/// file, so the result does not depend on the number of cores.
/// </remarks>
internal abstract class RowSource : TableSource
{
    /// <summary>Rows with a wrong number of cells that are reported one by one; more say nothing new.</summary>
    private const int RaggedReported = 1000;

    /// <summary>What a row is called, for findings.</summary>
    protected virtual string RowWord => "Row";

    /// <summary>What is the usual cause of too many cells, for findings.</summary>
    protected virtual string CauseOfMore => string.Empty;

    /// <summary>What is the usual cause of too few cells, for findings.</summary>
    protected virtual string CauseOfFewer => string.Empty;

    /// <summary>Where the row stands in its file.</summary>
    protected internal abstract int Line { get; }

    /// <summary>Number of cells of the row.</summary>
    protected internal abstract int Cells { get; }

    /// <summary>Goes to the next row; false after the last.</summary>
    /// <exception cref="UnreadableFileException">The file breaks off or is no file of its format.</exception>
    protected internal abstract bool Read();

    /// <summary>A cell of the row, in UTF-8; empty where nothing stands. Valid until the next row is read.</summary>
    protected internal abstract ReadOnlySpan<byte> Cell(int position);

    internal override RawTable Rows(string file, IReadOnlyList<int> positions, ExportReading reading)
    {
        RawColumnBuilder[] columns = [.. positions.Select(p => new RawColumnBuilder(Header[p]))];
        ImmutableArray<int>.Builder lines = ImmutableArray.CreateBuilder<int>();
        int[] wanted = [.. positions];
        (RowBatch batch, RowBatch other) = (new RowBatch(wanted), new RowBatch(wanted));
        Task sorting = Task.CompletedTask;
        int ragged = 0;
        try
        {
            while (Read())
            {
                if (Cells != Header.Count)
                {
                    reading.Reached(file, 0);
                    if (ragged++ < RaggedReported)
                        reading.Findings.Add(Ragged(file));
                    continue;
                }
                lines.Add(Line);
                batch.Add(this);
                if (!batch.IsFull)
                    continue;
                sorting.GetAwaiter().GetResult();
                (batch, other) = (other, batch);
                RowBatch full = other;
                sorting = Task.Run(() => full.MoveInto(columns));
                reading.Reached(file, lines.Count);
            }
        }
        finally
        {
            sorting.GetAwaiter().GetResult();
        }
        batch.MoveInto(columns);
        if (ragged > RaggedReported)
            reading.Findings.Add(MoreRagged(file, ragged));
        return new RawTable([.. columns.Select(c => c.Build())], lines.DrainToImmutable(), ragged);
    }

    private Finding Ragged(string file)
    {
        string cause = Cells > Header.Count ? CauseOfMore : CauseOfFewer;
        return CheckCatalog.RowFields.At(
            file, Line, null, null, string.Create(CultureInfo.InvariantCulture, $"{Header.Count} cells"),
            string.Create(CultureInfo.InvariantCulture, $"{RowWord} {Line} of {file} has {Cells} cells, the header has {Header.Count}.{cause} The row is set aside."));
    }

    private Finding MoreRagged(string file, int ragged) => CheckCatalog.RowFields.InFile(
        file, string.Create(CultureInfo.InvariantCulture, $"{Header.Count} cells"),
        string.Create(CultureInfo.InvariantCulture, $"{ragged} rows of {file} have more or fewer cells than the header. All are set aside; the first {RaggedReported} are listed."));
}
