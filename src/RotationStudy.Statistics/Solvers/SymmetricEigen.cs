namespace RotationStudy.Statistics.Solvers;

/// <summary>Eigenvalues and eigenvectors of a small symmetric matrix by cyclic Jacobi rotations.</summary>
/// <remarks>
/// Jacobi rotations find small eigenvalues of a positive semi-definite matrix to high relative accuracy, need no
/// library, and make the same bytes everywhere. The cost is some ten times n^3: meant for n up to a hundred or so.
/// <para><b>Sources</b>: Golub GH, Van Loan CF. Matrix Computations, section 8.5 (recalled, not re-read).</para>
/// </remarks>
internal sealed class SymmetricEigen
{
    private const int MaximumSweeps = 60;

    private SymmetricEigen(double[] eigenvalues, double[] vectors)
    {
        Eigenvalues = eigenvalues;
        Vectors = vectors;
    }

    /// <summary>Eigenvalues, in no particular order.</summary>
    internal double[] Eigenvalues { get; }

    /// <summary>Eigenvectors as columns, row by row: entry (i, k) is coordinate i of vector k.</summary>
    internal double[] Vectors { get; }

    /// <summary>Decomposes a full symmetric matrix given row by row.</summary>
    /// <exception cref="NotConvergedError">The rotations did not settle, which only a non-finite entry can cause.</exception>
    internal static SymmetricEigen Of(ReadOnlySpan<double> matrix, int size)
    {
        double[] a = matrix[..(size * size)].ToArray();
        double[] v = new double[size * size];
        for (int i = 0; i < size; i++)
            v[(i * size) + i] = 1;
        for (int sweep = 0; sweep < MaximumSweeps; sweep++)
        {
            bool rotated = false;
            for (int p = 0; p < size - 1; p++)
            {
                for (int q = p + 1; q < size; q++)
                    rotated |= Rotate(a, v, size, p, q);
            }
            if (rotated)
                continue;
            double[] values = new double[size];
            for (int i = 0; i < size; i++)
                values[i] = a[(i * size) + i];
            if (Array.TrueForAll(values, double.IsFinite))
                return new SymmetricEigen(values, v);
            break;
        }
        throw new NotConvergedError(
            "the eigenvalues of a symmetric matrix did not settle",
            "Check the matrix for entries that are no numbers.",
            MaximumSweeps);
    }

    /// <summary>The matrix V f(lambda) V', row by row.</summary>
    internal double[] Rebuild(Func<double, double> f)
    {
        int n = Eigenvalues.Length;
        double[] result = new double[n * n];
        for (int k = 0; k < n; k++)
        {
            double value = f(Eigenvalues[k]);
            for (int i = 0; i < n; i++)
            {
                double left = Vectors[(i * n) + k] * value;
                for (int j = 0; j < n; j++)
                    result[(i * n) + j] += left * Vectors[(j * n) + k];
            }
        }
        return result;
    }

    private static bool Rotate(double[] a, double[] v, int n, int p, int q)
    {
        double off = a[(p * n) + q];
        double app = a[(p * n) + p];
        double aqq = a[(q * n) + q];
        if (off == 0 || Math.Abs(off) <= double.Epsilon + (1e-17 * Math.Sqrt(Math.Abs(app) * Math.Abs(aqq))))
            return false;
        double theta = (aqq - app) / (2 * off);
        double t = double.IsInfinity(theta * theta)
            ? 0.5 / theta
            : Math.CopySign(1, theta) / (Math.Abs(theta) + Math.Sqrt((theta * theta) + 1));
        double c = 1 / Math.Sqrt((t * t) + 1);
        double s = t * c;
        for (int k = 0; k < n; k++)
        {
            (a[(k * n) + p], a[(k * n) + q]) = Turn(a[(k * n) + p], a[(k * n) + q], c, s);
            (v[(k * n) + p], v[(k * n) + q]) = Turn(v[(k * n) + p], v[(k * n) + q], c, s);
        }
        for (int k = 0; k < n; k++)
            (a[(p * n) + k], a[(q * n) + k]) = Turn(a[(p * n) + k], a[(q * n) + k], c, s);
        a[(p * n) + p] = app - (t * off);
        a[(q * n) + q] = aqq + (t * off);
        a[(p * n) + q] = a[(q * n) + p] = 0;
        return true;
    }

    private static (double First, double Second) Turn(double x, double y, double c, double s) => ((c * x) - (s * y), (s * x) + (c * y));
}
