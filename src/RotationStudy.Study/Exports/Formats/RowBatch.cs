namespace RotationStudy.Study.Exports.Formats;

/// <summary>Copies of the wanted cells of some rows that follow each other.</summary>
/// <param name="positions">The columns wanted.</param>
internal sealed class RowBatch(int[] positions)
{
    // So many that both fit the cache of one core beside the texts of a column, and handing them over costs nothing to speak of.
    private const int MostRows = 1024;
    private const int EnoughBytes = 1 << 20;

    private byte[] bytes = new byte[4096];
    private int[] ends = new int[16 * positions.Length];
    private int rows;
    private int used;

    /// <summary>Whether it is time to hand the batch over.</summary>
    internal bool IsFull => rows == MostRows || used >= EnoughBytes;

    /// <summary>Copies the row at which a source stands.</summary>
    /// <exception cref="UnreadableFileException">A cell is longer than any cell can be.</exception>
    internal void Add(RowSource source)
    {
        int end = rows * positions.Length;
        if (end + positions.Length > ends.Length)
            Array.Resize(ref ends, Math.Min(ends.Length * 4, MostRows * positions.Length));
        foreach (int position in positions)
        {
            ReadOnlySpan<byte> cell = source.Cell(position);
            if (cell.Length > CsvRows.LongestRow)
                throw new UnreadableFileException("a cell is longer than any cell can be", source.Line);
            if (used + cell.Length > bytes.Length)
                Array.Resize(ref bytes, Math.Max(bytes.Length * 2, used + cell.Length));
            cell.CopyTo(bytes.AsSpan(used));
            used += cell.Length;
            ends[end++] = used;
        }
        rows++;
    }

    /// <summary>Adds the cells to their columns, one column after the other, and is empty again.</summary>
    internal void MoveInto(RawColumnBuilder[] columns)
    {
        for (int c = 0; c < columns.Length; c++)
        {
            RawColumnBuilder column = columns[c];
            for (int at = c; at < rows * columns.Length; at += columns.Length)
            {
                int start = at == 0 ? 0 : ends[at - 1];
                column.Add(bytes.AsSpan(start, ends[at] - start));
            }
        }
        (rows, used) = (0, 0);
    }
}
