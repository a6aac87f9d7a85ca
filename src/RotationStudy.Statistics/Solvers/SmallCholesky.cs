namespace RotationStudy.Statistics.Solvers;

/// <summary>Cholesky factor of a small symmetric positive definite matrix, with the dependent column named when there is one.</summary>
internal sealed class SmallCholesky
{
    // A pivot that keeps less than this share of its diagonal entry is rounding noise: the column depends on those before.
    private const double PivotTolerance = 1e-11;

    private readonly double[] factor;
    private readonly int size;

    private SmallCholesky(double[] factor, int size)
    {
        this.factor = factor;
        this.size = size;
    }

    /// <summary>Twice the sum of the logs of the diagonal: the log determinant of the matrix.</summary>
    internal double LogDeterminant
    {
        get
        {
            double sum = 0;
            for (int i = 0; i < size; i++)
                sum += Math.Log(factor[(i * size) + i]);
            return 2 * sum;
        }
    }

    /// <summary>Factors a matrix given row by row (p squared values; the lower triangle is read).</summary>
    /// <exception cref="RankDeficientError">The matrix is singular to working precision.</exception>
    internal static SmallCholesky Factor(ReadOnlySpan<double> matrix, int size, IReadOnlyList<string> names)
    {
        double[] l = new double[size * size];
        List<string> dependent = [];
        for (int j = 0; j < size; j++)
        {
            double pivot = matrix[(j * size) + j];
            for (int k = 0; k < j; k++)
                pivot -= l[(j * size) + k] * l[(j * size) + k];
            if (!(pivot > PivotTolerance * matrix[(j * size) + j]))
            {
                dependent.Add(names[j]);
                continue;
            }
            double root = Math.Sqrt(pivot);
            l[(j * size) + j] = root;
            for (int i = j + 1; i < size; i++)
            {
                double sum = matrix[(i * size) + j];
                for (int k = 0; k < j; k++)
                    sum -= l[(i * size) + k] * l[(j * size) + k];
                l[(i * size) + j] = sum / root;
            }
        }
        return dependent.Count == 0 ? new SmallCholesky(l, size) : throw new RankDeficientError(dependent);
    }

    /// <summary>The solution x of A x = b.</summary>
    internal double[] Solve(ReadOnlySpan<double> b)
    {
        double[] x = b.ToArray();
        SolveInPlace(x);
        return x;
    }

    /// <summary>As <see cref="Solve"/>, overwriting b.</summary>
    internal void SolveInPlace(Span<double> x)
    {
        for (int i = 0; i < size; i++)
        {
            double sum = x[i];
            for (int k = 0; k < i; k++)
                sum -= factor[(i * size) + k] * x[k];
            x[i] = sum / factor[(i * size) + i];
        }
        for (int i = size - 1; i >= 0; i--)
        {
            double sum = x[i];
            for (int k = i + 1; k < size; k++)
                sum -= factor[(k * size) + i] * x[k];
            x[i] = sum / factor[(i * size) + i];
        }
    }

    /// <summary>The factor L of A = L L', row by row, zero above the diagonal; a copy.</summary>
    internal double[] LowerFactor() => [.. factor];

    /// <summary>The inverse, row by row, p squared values.</summary>
    internal double[] Inverse()
    {
        double[] inverse = new double[size * size];
        double[] column = new double[size];
        for (int j = 0; j < size; j++)
        {
            Array.Clear(column);
            column[j] = 1;
            SolveInPlace(column);
            for (int i = 0; i < size; i++)
                inverse[(i * size) + j] = column[i];
        }
        return inverse;
    }
}
