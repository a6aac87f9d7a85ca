using MathNet.Numerics.LinearAlgebra.Double;

namespace RotationStudy.Statistics.Mixed;

/// <summary>Gauss-Hermite quadrature: integrals of exp(-x2) f(x) as weighted sums of f.</summary>
/// <remarks>
/// Nodes are the eigenvalues of the recurrence's matrix (Golub &amp; Welsch 1969, Math Comput 23:221-230), polished by Newton
/// steps on the orthonormal Hermite polynomial; weights are 1 / sum of squares of the orthonormal polynomials at the node.
/// </remarks>
internal sealed class GaussHermiteRule
{
    internal const int MostPoints = 100;

    private GaussHermiteRule(double[] nodes, double[] weights)
    {
        Nodes = nodes;
        Weights = weights;
    }

    internal double[] Nodes { get; }

    internal double[] Weights { get; }

    internal static GaussHermiteRule WithPoints(int points)
    {
        double[] nodes = new double[points];
        double[] weights = new double[points];
        double[] rough = Eigenvalues(points);
        for (int k = 0; k < (points + 1) / 2; k++)
        {
            double x = rough[points - 1 - k];
            for (int iteration = 0; iteration < 3; iteration++)
                x -= Ratio(points, x);
            nodes[k] = (2 * k) + 1 == points ? 0 : x;
            nodes[points - 1 - k] = -nodes[k];
            weights[k] = weights[points - 1 - k] = 1 / SumOfSquares(points, nodes[k]);
        }
        return new GaussHermiteRule(nodes, weights);
    }

    // Of the symmetric tridiagonal matrix of the recurrence, in increasing order.
    private static double[] Eigenvalues(int points)
        => [.. DenseMatrix.Create(points, points, (i, j) => Math.Abs(i - j) == 1 ? Math.Sqrt(Math.Max(i, j) / 2.0) : 0)
            .Evd(MathNet.Numerics.LinearAlgebra.Symmetricity.Symmetric).EigenValues.Select(v => v.Real).Order()];

    // Value over derivative: h' = sqrt(2n) h_(n-1) for orthonormal polynomials.
    private static double Ratio(int n, double x)
    {
        (double value, double before) = (0, 0);
        double last = Math.Pow(Math.PI, -0.25);
        for (int j = 1; j <= n; j++)
        {
            value = (Math.Sqrt(2.0 / j) * x * last) - (Math.Sqrt((j - 1.0) / j) * before);
            (before, last) = (last, value);
        }
        return value / (Math.Sqrt(2.0 * n) * before);
    }

    private static double SumOfSquares(int n, double x)
    {
        double before = 0;
        double last = Math.Pow(Math.PI, -0.25);
        double sum = last * last;
        for (int j = 1; j < n; j++)
        {
            double value = (Math.Sqrt(2.0 / j) * x * last) - (Math.Sqrt((j - 1.0) / j) * before);
            (before, last) = (last, value);
            sum += value * value;
        }
        return sum;
    }
}
