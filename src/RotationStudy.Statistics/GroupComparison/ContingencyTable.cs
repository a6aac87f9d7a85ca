namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Counts of independent rows by two categories: r rows by c columns, with margins.</summary>
public sealed class ContingencyTable
{
    private readonly int[] counts;
    private readonly int[] rowTotals;
    private readonly int[] columnTotals;

    /// <summary>A table from counts, row by row.</summary>
    /// <param name="rows">Number of rows, 2 or more.</param>
    /// <param name="columns">Number of columns, 2 or more.</param>
    /// <param name="counts">Counts, row by row, length rows times columns, zero or more.</param>
    /// <exception cref="InvalidInputError">A wrong number of counts, a negative one, fewer than two rows or columns.</exception>
    public ContingencyTable(int rows, int columns, params IReadOnlyList<int> counts)
    {
        if (rows < 2 || columns < 2 || counts.Count != (long)rows * columns)
            throw new InvalidInputError(
                $"{counts.Count} counts make no table of {rows} by {columns}",
                "Give two rows and two columns or more, row by row.");
        Rows = rows;
        Columns = columns;
        this.counts = [.. counts];
        rowTotals = new int[rows];
        columnTotals = new int[columns];
        for (int i = 0; i < rows; i++)
        {
            for (int j = 0; j < columns; j++)
            {
                if (this[i, j] < 0)
                    throw new InvalidInputError($"the count in row {i + 1}, column {j + 1} is {this[i, j]}", "Counts are zero or more.", i);
                rowTotals[i] += this[i, j];
                columnTotals[j] += this[i, j];
                Total += this[i, j];
            }
        }
    }

    /// <summary>Number of rows.</summary>
    public int Rows { get; }

    /// <summary>Number of columns.</summary>
    public int Columns { get; }

    /// <summary>Sum of all counts, n.</summary>
    public int Total { get; }

    /// <summary>Row sums.</summary>
    public IReadOnlyList<int> RowTotals => rowTotals;

    /// <summary>Column sums.</summary>
    public IReadOnlyList<int> ColumnTotals => columnTotals;

    /// <summary>One count.</summary>
    public int this[int row, int column] => counts[(row * Columns) + column];

    /// <summary>Count expected without association: row total times column total over n.</summary>
    public double Expected(int row, int column) => (double)rowTotals[row] * columnTotals[column] / Total;

    /// <summary>Counts two lists of categories, each in order of first appearance.</summary>
    /// <exception cref="InvalidInputError">Lists of unequal length, or fewer than two categories in either.</exception>
    public static ContingencyTable Of<TRow, TColumn>(IReadOnlyList<TRow> rows, IReadOnlyList<TColumn> columns)
        where TRow : notnull
        where TColumn : notnull
    {
        if (rows.Count != columns.Count)
            throw new InvalidInputError($"{rows.Count} and {columns.Count} values cannot be crossed", "Take both from one table.");
        Clusters r = Clusters.From(rows);
        Clusters c = Clusters.From(columns);
        int[] counts = new int[r.Count * c.Count];
        for (int i = 0; i < rows.Count; i++)
            counts[(r.ClusterOfRow[i] * c.Count) + c.ClusterOfRow[i]]++;
        return new ContingencyTable(r.Count, c.Count, counts);
    }

    /// <summary>The table without rows and columns that are all zero.</summary>
    /// <exception cref="TooFewDataError">Fewer than two rows or columns are left, so there is nothing to compare.</exception>
    internal ContingencyTable WithoutEmpty()
    {
        int[] r = [.. Enumerable.Range(0, Rows).Where(i => rowTotals[i] > 0)];
        int[] c = [.. Enumerable.Range(0, Columns).Where(j => columnTotals[j] > 0)];
        if (r.Length < 2 || c.Length < 2)
            throw new TooFewDataError("only one row or column of the table holds counts", "There is nothing to compare.");
        return r.Length == Rows && c.Length == Columns
            ? this
            : new ContingencyTable(r.Length, c.Length, [.. r.SelectMany(i => c.Select(j => this[i, j]))]);
    }
}
