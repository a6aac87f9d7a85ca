namespace RotationStudy.Statistics.Curves;

/// <summary>Curves on one grid: a row per curve, a value or a gap at each point, and the cluster that each curve belongs to.</summary>
public sealed class CurveSet
{
    private readonly double[] grid;
    private readonly double[] values;

    private CurveSet(double[] grid, double[] values, Clusters clusters)
    {
        this.grid = grid;
        this.values = values;
        Clusters = clusters;
    }

    /// <summary>The grid, increasing.</summary>
    public IReadOnlyList<double> Grid => grid;

    /// <summary>Number of points of the grid.</summary>
    public int Points => grid.Length;

    /// <summary>Number of curves.</summary>
    public int Rows => Clusters.Rows;

    /// <summary>Which curves belong together.</summary>
    public Clusters Clusters { get; }

    /// <summary>The value of a curve at a point; null for a gap.</summary>
    public double? this[int row, int point] => double.IsNaN(At(row, point)) ? null : At(row, point);

    /// <summary>Joins curves.</summary>
    /// <param name="grid">The grid, increasing, one point or more.</param>
    /// <param name="curves">One list per curve, as long as the grid; null where a curve has a gap.</param>
    /// <param name="clusters">The cluster of each curve.</param>
    /// <exception cref="InvalidInputError">A grid that does not increase, a length that does not agree, a value that is not finite.</exception>
    public static CurveSet From(IReadOnlyList<double> grid, IReadOnlyList<IReadOnlyList<double?>> curves, Clusters clusters)
    {
        double[] points = [.. grid];
        Require.Finite(points, "grid");
        for (int j = 0; j < points.Length; j++)
        {
            if (j > 0 && !(points[j] > points[j - 1]))
                throw new InvalidInputError($"the grid goes from {points[j - 1]} to {points[j]}", "Give each point once, in increasing order.", j, "grid");
        }
        if (points.Length == 0)
            throw new InvalidInputError("the grid has no point", "Give one at the very least.", column: "grid");
        Require.SameLength(curves.Count, clusters.Rows, "curves");
        double[] values = new double[curves.Count * points.Length];
        for (int i = 0; i < curves.Count; i++)
        {
            Require.SameLength(curves[i].Count, points.Length, "curve");
            for (int j = 0; j < points.Length; j++)
            {
                if (curves[i][j] is { } value && !double.IsFinite(value))
                    throw new InvalidInputError($"curve {i} holds {value} at {points[j]}", "Give null for a gap.", i, "curves");
                values[(i * points.Length) + j] = curves[i][j] ?? double.NaN;
            }
        }
        return new CurveSet(points, values, clusters);
    }

    /// <summary>Some of the curves, in the order given.</summary>
    public CurveSet SelectRows(IReadOnlyList<int> rows)
    {
        double[] selected = new double[rows.Count * Points];
        for (int i = 0; i < rows.Count; i++)
            values.AsSpan(rows[i] * Points, Points).CopyTo(selected.AsSpan(i * Points));
        return new CurveSet(grid, selected, Clusters.SelectRows([.. rows]));
    }

    /// <summary>The value, NaN for a gap: for inner loops.</summary>
    internal double At(int row, int point) => values[(row * Points) + point];
}
