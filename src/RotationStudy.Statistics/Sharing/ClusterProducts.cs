using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Sharing;

/// <summary>Sums over clusters of products of their own sums, from which the sandwich of a least-squares fit follows at any coefficients.</summary>
/// <remarks>
/// With A_g = X_g'X_g and c_g = X_g'r_g of cluster g at the coefficients of the sums, the cluster's score after a change d is c_g - A_g d,
/// so the sum of its outer products needs only the sums of c c', of A times c and of A times A. A is kept as its h = p (p + 1) / 2 different entries.
/// </remarks>
public sealed record ClusterProducts
{
    /// <summary>Sum of c_g c_g', p by p.</summary>
    public required IReadOnlyList<double> Scores { get; init; }

    /// <summary>Sum of each entry of A_g times each of c_g, h by p.</summary>
    public required IReadOnlyList<double> Mixed { get; init; }

    /// <summary>Sum of each entry of A_g times each entry of A_g, the h (h + 1) / 2 different ones.</summary>
    public required IReadOnlyList<double> Squares { get; init; }

    /// <summary>How many different numbers these are.</summary>
    internal int Numbers => Triangle(Size) + Mixed.Count + Squares.Count;

    private int Size => (int)Math.Sqrt(Scores.Count + 0.5);

    internal static int CountFor(int p) => Triangle(p) + (Triangle(p) * p) + Triangle(Triangle(p));

    internal static ClusterProducts Of(DesignMatrix x, double[] residuals, Clusters clusters)
    {
        int p = x.Columns;
        int h = Triangle(p);
        double[] scores = new double[p * p];
        double[] mixed = new double[h * p];
        double[] squares = new double[Triangle(h)];
        double[] a = new double[h];
        double[] c = new double[p];
        for (int g = 0; g < clusters.Count; g++)
        {
            Array.Clear(a);
            Array.Clear(c);
            foreach (int row in clusters.Members(g))
            {
                for (int i = 0; i < p; i++)
                {
                    c[i] += x[row, i] * residuals[row];
                    for (int j = 0; j <= i; j++)
                        a[At(i, j)] += x[row, i] * x[row, j];
                }
            }
            for (int i = 0; i < p; i++)
                CrossProduct.AddScaled(c, c[i], scores.AsSpan(i * p, p));
            for (int k = 0; k < h; k++)
            {
                CrossProduct.AddScaled(c, a[k], mixed.AsSpan(k * p, p));
                CrossProduct.AddScaled(a.AsSpan(0, k + 1), a[k], squares.AsSpan(Triangle(k), k + 1));
            }
        }
        return new ClusterProducts { Scores = scores, Mixed = mixed, Squares = squares };
    }

    internal static ClusterProducts Combine(IReadOnlyList<ClusterProducts> parts) => new()
    {
        Scores = RegressionSums.Sum([.. parts.Select(p => p.Scores)]),
        Mixed = RegressionSums.Sum([.. parts.Select(p => p.Mixed)]),
        Squares = RegressionSums.Sum([.. parts.Select(p => p.Squares)]),
    };

    internal ClusterProducts Select(IReadOnlyList<int> columns)
    {
        int p = Size;
        (int I, int J)[] pairs = [.. Enumerable.Range(0, columns.Count).SelectMany(i => Enumerable.Range(0, i + 1).Select(j => (columns[i], columns[j])))];
        return new ClusterProducts
        {
            Scores = [.. columns.SelectMany(_ => columns, (r, c) => Scores[(r * p) + c])],
            Mixed = [.. pairs.SelectMany(_ => columns, (k, c) => Mixed[(At(k.I, k.J) * p) + c])],
            Squares = [.. Enumerable.Range(0, pairs.Length).SelectMany(k => Enumerable.Range(0, k + 1).Select(l => Squares[At(At(pairs[k].I, pairs[k].J), At(pairs[l].I, pairs[l].J))]))],
        };
    }

    /// <summary>Sum of the outer products of the clusters' scores after a change d of the coefficients, p by p.</summary>
    internal double[] Meat(ReadOnlySpan<double> d)
    {
        int p = Size;
        double[] meat = new double[p * p];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
            {
                double sum = Scores[(i * p) + j];
                for (int k = 0; k < p; k++)
                {
                    sum -= d[k] * (Mixed[(At(i, k) * p) + j] + Mixed[(At(j, k) * p) + i]);
                    for (int l = 0; l < p; l++)
                        sum += d[k] * d[l] * Squares[At(At(i, k), At(j, l))];
                }
                meat[(i * p) + j] = sum;
            }
        }
        return meat;
    }

    private static int Triangle(int n) => n * (n + 1) / 2;

    private static int At(int i, int j) => i >= j ? Triangle(i) + j : Triangle(j) + i;
}
