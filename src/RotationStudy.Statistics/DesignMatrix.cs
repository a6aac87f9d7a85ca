namespace RotationStudy.Statistics;

/// <summary>The columns of a regression: n rows by p named columns, each column contiguous in memory.</summary>
/// <remarks>
/// Column-major storage lets the cross-product kernels run along contiguous memory and lets an estimator name the
/// column it cannot use. Values are checked once, at the door: nothing behind this type meets NaN or infinity.
/// </remarks>
public sealed class DesignMatrix
{
    /// <summary>The name given to the column of ones.</summary>
    public const string InterceptName = "(intercept)";

    private readonly double[] values;
    private readonly string[] names;

    private DesignMatrix(double[] values, int rows, string[] names)
    {
        this.values = values;
        Rows = rows;
        this.names = names;
    }

    /// <summary>Number of rows (observations), n.</summary>
    public int Rows { get; }

    /// <summary>Number of columns (coefficients), p.</summary>
    public int Columns => names.Length;

    /// <summary>Column names, in order, unique.</summary>
    public IReadOnlyList<string> Names => names;

    /// <summary>The values of one column, length <see cref="Rows"/>.</summary>
    public ReadOnlySpan<double> Column(int column) => values.AsSpan(column * Rows, Rows);

    /// <summary>All values, column after column, length <see cref="Rows"/> times <see cref="Columns"/>.</summary>
    public ReadOnlySpan<double> Values => values;

    /// <summary>The value at a row and column, both from 0.</summary>
    public double this[int row, int column] => values[(column * Rows) + row];

    /// <summary>The position of a named column, or -1.</summary>
    public int IndexOf(string name) => Array.IndexOf(names, name);

    /// <summary>Builds a design from named columns of equal length, in the order given.</summary>
    /// <exception cref="InvalidInputError">No column, unequal lengths, a repeated name, NaN or infinity.</exception>
    public static DesignMatrix FromColumns(params IReadOnlyList<(string Name, IReadOnlyList<double> Values)> columns)
        => Build(columns, intercept: false);

    /// <summary>As <see cref="FromColumns"/>, with a column of ones named <see cref="InterceptName"/> put first.</summary>
    /// <exception cref="InvalidInputError">No column, unequal lengths, a repeated name, NaN or infinity.</exception>
    public static DesignMatrix WithIntercept(params IReadOnlyList<(string Name, IReadOnlyList<double> Values)> columns)
        => Build(columns, intercept: true);

    /// <summary>A design of n rows that holds the column of ones only.</summary>
    public static DesignMatrix InterceptOnly(int rows)
    {
        double[] ones = new double[rows];
        Array.Fill(ones, 1.0);
        return new DesignMatrix(ones, rows, [InterceptName]);
    }

    /// <summary>The design restricted to some rows, in the order given; a row may be named more than once.</summary>
    public DesignMatrix SelectRows(ReadOnlySpan<int> rows)
    {
        double[] selected = new double[rows.Length * Columns];
        for (int j = 0; j < Columns; j++)
        {
            ReadOnlySpan<double> from = Column(j);
            Span<double> to = selected.AsSpan(j * rows.Length, rows.Length);
            for (int i = 0; i < rows.Length; i++)
                to[i] = from[rows[i]];
        }
        return new DesignMatrix(selected, rows.Length, names);
    }

    /// <summary>The design restricted to some columns, in the order given.</summary>
    public DesignMatrix SelectColumns(ReadOnlySpan<int> columns)
    {
        double[] selected = new double[Rows * columns.Length];
        string[] kept = new string[columns.Length];
        for (int j = 0; j < columns.Length; j++)
        {
            Column(columns[j]).CopyTo(selected.AsSpan(j * Rows, Rows));
            kept[j] = names[columns[j]];
        }
        return new DesignMatrix(selected, Rows, kept);
    }

    private static DesignMatrix Build(IReadOnlyList<(string Name, IReadOnlyList<double> Values)> columns, bool intercept)
    {
        if (columns.Count == 0)
            throw new InvalidInputError("a design needs at least one column", "Give the exposure as a column, or ask for InterceptOnly.");
        int rows = columns[0].Values.Count;
        int first = intercept ? 1 : 0;
        string[] names = new string[columns.Count + first];
        double[] values = new double[rows * names.Length];
        if (intercept)
        {
            names[0] = InterceptName;
            values.AsSpan(0, rows).Fill(1.0);
        }
        for (int j = 0; j < columns.Count; j++)
        {
            (string name, IReadOnlyList<double> column) = columns[j];
            if (column.Count != rows)
                throw new InvalidInputError($"column '{name}' has {column.Count} rows where '{columns[0].Name}' has {rows}", "Take all columns from one table.");
            if (Array.IndexOf(names, name, 0, j + first) >= 0)
                throw new InvalidInputError($"column '{name}' is named twice", "Give each column a name of its own.");
            names[j + first] = name;
            Span<double> target = values.AsSpan((j + first) * rows, rows);
            for (int i = 0; i < rows; i++)
                target[i] = column[i];
            Require.Finite(target, name);
        }
        return new DesignMatrix(values, rows, names);
    }
}
