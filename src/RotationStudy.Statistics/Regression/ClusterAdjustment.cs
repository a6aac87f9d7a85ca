using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// The matrix K that widens the residuals of one cluster to make up for the leverage of its rows (CR2, CR3): loaded
/// cluster by cluster into the same buffers, applied to vectors as long as the cluster.
/// </summary>
/// <remarks>
/// On the whitened scale the residuals of cluster j have covariance B = I - Y Y' under the working model (Y: m by p).
/// CR3 takes K = B^-1. CR2 takes K = B^(-1/2) where the response variances D of a cluster are equal; where they differ,
/// the form of Pustejovsky and Tipton (2018): K = C^(-1/2) D with C = D B D. Both satisfy K B K' = I, which makes the
/// estimate unbiased; their roots differ, since a symmetric root depends on the scale, and libraries follow the second.
/// <list type="bullet">
/// <item>One row: K is a number. Two rows: the square root of a 2 by 2 matrix in closed form.</item>
/// <item>More rows, variances equal: K = I + Y F Y' with F from the p by p matrix Y'Y, so the cost is linear in the
/// size of the cluster. F is a short power series where the cluster's leverage is under 0.01; since all leverages sum
/// to p, no more than 100 p clusters need eigenvalues.</item>
/// <item>A singular B (the cluster's own columns are absorbed, such as an indicator of that cluster): the Moore-Penrose
/// inverse root on the whitened scale; the absorbed directions have residual zero and add nothing.</item>
/// <item>More than <see cref="DenseLimit"/> rows, or more than <see cref="ManyClusters"/> clusters, with unequal
/// variances: K = B^(-1/2), which satisfies the same criterion at linear cost.</item>
/// </list>
/// </remarks>
internal sealed class ClusterAdjustment
{
    /// <summary>Largest cluster for which a square matrix as long as the cluster is made.</summary>
    internal const int DenseLimit = 100;

    /// <summary>
    /// With more clusters than this a cluster of three rows or more takes the root on the whitened scale: the two roots
    /// then differ by the order of p / G.
    /// </summary>
    internal const int ManyClusters = 2000;

    // Eigenvalues of B lie between 0 and 1; below this they are rounding noise of an absorbed direction.
    private const double Singular = 1e-8;
    private const double SeriesLimit = 0.01;
    private const int SeriesTerms = 9;

    private readonly WorkingLeastSquares fit;
    private readonly Clusters clusters;
    private readonly bool inverse;
    private readonly int clustersInAll;
    private readonly int p;
    private readonly int[] rows;
    private readonly double[] y;
    private readonly double[] residuals;
    private readonly double[] weights;
    private readonly double[] kernel;
    private readonly double[] projected;
    private readonly double[] gram;
    private readonly double[] previous;
    private bool dense;

    /// <summary>Buffers for the clusters of a fit.</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="clusters">Clusters of its rows.</param>
    /// <param name="variance">CR2 or CR3.</param>
    /// <param name="clustersInAll">Number of clusters where these are a part only; null where they are all.</param>
    internal ClusterAdjustment(WorkingLeastSquares fit, Clusters clusters, ClusterVariance variance, int? clustersInAll = null)
    {
        this.clustersInAll = clustersInAll ?? clusters.Count;
        this.fit = fit;
        this.clusters = clusters;
        inverse = variance == ClusterVariance.CR3;
        p = fit.Design.Columns;
        int largest = clusters.LargestSize;
        rows = new int[largest];
        y = new double[largest * p];
        residuals = new double[largest];
        weights = new double[largest];
        int square = Math.Min(largest, DenseLimit);
        kernel = new double[Math.Max(square * square, p * p)];
        projected = new double[2 * p];
        gram = new double[p * p];
        previous = new double[p * p];
    }

    /// <summary>Rows of positive weight in the loaded cluster, m.</summary>
    internal int Size { get; private set; }

    /// <summary>Whether the loaded cluster is absorbed: without it some coefficient would have no value.</summary>
    internal bool IsSingular { get; private set; }

    /// <summary>Their positions in the design.</summary>
    internal ReadOnlySpan<int> Rows => rows.AsSpan(0, Size);

    /// <summary>Their whitened residuals r / sqrt(w), length m.</summary>
    internal ReadOnlySpan<double> Residuals => residuals.AsSpan(0, Size);

    /// <summary>One row of the whitened design, length p; the row counts within the cluster.</summary>
    internal ReadOnlySpan<double> WhitenedRow(int row) => y.AsSpan(row * p, p);

    /// <summary>Takes in a cluster and works out its K.</summary>
    internal void Load(int cluster)
    {
        int n = fit.Design.Rows;
        ReadOnlySpan<double> whitened = fit.Whitened;
        int m = 0;
        bool equal = true;
        foreach (int i in clusters.Members(cluster))
        {
            if (!fit.IsUsed(i))
                continue;
            rows[m] = i;
            weights[m] = fit.InverseVariance(i);
            residuals[m] = fit.ScoreResiduals[i] / Math.Sqrt(fit.Weight(i));
            for (int k = 0; k < p; k++)
                y[(m * p) + k] = whitened[(k * n) + i];
            equal &= weights[m] == weights[0];
            m++;
        }
        Size = m;
        IsSingular = false;
        dense = m <= 2 || (m <= DenseLimit && !(equal || inverse) && clustersInAll <= ManyClusters);
        if (m == 0)
            return;
        if (!dense)
            LowRankKernel();
        else if (m == 1)
            kernel[0] = Power(1 - Product(0, 0));
        else if (m == 2)
            PairKernel(equal);
        else
            DenseKernel(equal);
    }

    /// <summary>K v, or K'v, for a vector as long as the cluster.</summary>
    internal void Apply(ReadOnlySpan<double> v, Span<double> result, bool transposed)
    {
        if (!dense)
        {
            ApplyLowRank(v, result);
            return;
        }
        for (int i = 0; i < Size; i++)
        {
            double sum = 0;
            for (int j = 0; j < Size; j++)
                sum += kernel[transposed ? (j * Size) + i : (i * Size) + j] * v[j];
            result[i] = sum;
        }
    }

    private double Product(int i, int j)
    {
        double sum = 0;
        for (int k = 0; k < p; k++)
            sum += y[(i * p) + k] * y[(j * p) + k];
        return sum;
    }

    private double Power(double eigenvalue)
    {
        if (eigenvalue < Singular)
        {
            IsSingular = true;
            return 0;
        }
        return inverse ? 1 / eigenvalue : 1 / Math.Sqrt(eigenvalue);
    }

    // A^(-1/2) = (A^-1 + I / s) / sqrt(tr A^-1 + 2 / s) with s = sqrt(det A), for a 2 by 2 positive definite A.
    private void PairKernel(bool equal)
    {
        double a = 1 - Product(0, 0);
        double b = -Product(0, 1);
        double c = 1 - Product(1, 1);
        double determinant = (a * c) - (b * b);
        if (!(determinant > Singular * (a + c)))
        {
            DenseKernel(equal: true);
            return;
        }
        if (inverse)
        {
            (kernel[0], kernel[1], kernel[2], kernel[3]) = (c / determinant, -b / determinant, -b / determinant, a / determinant);
            return;
        }
        double u = equal ? 1 : weights[0];
        double v = equal ? 1 : weights[1];
        (a, b, c, determinant) = (a / (u * u), b / (u * v), c / (v * v), determinant / (u * u * v * v));
        double root = Math.Sqrt(determinant);
        double scale = 1 / Math.Sqrt(((a + c) / determinant) + (2 / root));
        kernel[0] = scale * ((c / determinant) + (1 / root)) / u;
        kernel[1] = scale * -b / determinant / v;
        kernel[2] = scale * -b / determinant / u;
        kernel[3] = scale * ((a / determinant) + (1 / root)) / v;
    }

    private void DenseKernel(bool equal)
    {
        int m = Size;
        double[] block = new double[m * m];
        for (int i = 0; i < m; i++)
        {
            for (int j = 0; j < m; j++)
                block[(i * m) + j] = (i == j ? 1 : 0) - Product(i, j);
        }
        SymmetricEigen eigen = SymmetricEigen.Of(block, m);
        bool whitenedRoot = equal || inverse || Array.Exists(eigen.Eigenvalues, e => e < Singular);
        if (!whitenedRoot)
        {
            for (int i = 0; i < m; i++)
            {
                for (int j = 0; j < m; j++)
                    block[(i * m) + j] /= weights[i] * weights[j];
            }
            eigen = SymmetricEigen.Of(block, m);
        }
        double[] root = eigen.Rebuild(whitenedRoot ? Power : e => 1 / Math.Sqrt(e));
        for (int i = 0; i < m; i++)
        {
            for (int j = 0; j < m; j++)
                kernel[(i * m) + j] = whitenedRoot ? root[(i * m) + j] : root[(i * m) + j] / weights[j];
        }
    }

    // K = I + Y F Y'. With Y'Y = V L V', F = V f(L) V' and f(l) = ((1-l)^(-1/2) - 1) / l for CR2, 1 / (1-l) for CR3.
    private void LowRankKernel()
    {
        double trace = 0;
        Array.Clear(gram);
        for (int i = 0; i < Size; i++)
        {
            for (int k = 0; k < p; k++)
                CrossProduct.AddScaled(WhitenedRow(i), y[(i * p) + k], gram.AsSpan(k * p, p));
        }
        for (int k = 0; k < p; k++)
            trace += gram[(k * p) + k];
        if (trace < SeriesLimit)
            Series();
        else
            SymmetricEigen.Of(gram, p).Rebuild(LowRankFactor).CopyTo(kernel, 0);
    }

    private double LowRankFactor(double leverage)
    {
        double left = 1 - leverage;
        if (left < Singular)
        {
            IsSingular = true;
            return -1 / leverage;
        }
        double root = Math.Sqrt(left);
        return inverse ? 1 / left : 1 / (root * (1 + root));
    }

    // The binomial series of f, by Horner's rule: with a trace below 0.01 nine terms reach the last digit.
    private void Series()
    {
        for (int term = SeriesTerms; term >= 1; term--)
        {
            double coefficient = 1;
            for (int k = 1; k <= term && !inverse; k++)
                coefficient *= ((2 * k) - 1.0) / (2 * k);
            Array.Clear(kernel, 0, p * p);
            for (int i = 0; i < p && term < SeriesTerms; i++)
            {
                for (int k = 0; k < p; k++)
                    CrossProduct.AddScaled(previous.AsSpan(k * p, p), gram[(i * p) + k], kernel.AsSpan(i * p, p));
            }
            for (int i = 0; i < p; i++)
                kernel[(i * p) + i] += coefficient;
            kernel.AsSpan(0, p * p).CopyTo(previous);
        }
    }

    private void ApplyLowRank(ReadOnlySpan<double> v, Span<double> result)
    {
        Span<double> inner = projected.AsSpan(0, p);
        Span<double> outer = projected.AsSpan(p, p);
        inner.Clear();
        outer.Clear();
        for (int i = 0; i < Size; i++)
            CrossProduct.AddScaled(WhitenedRow(i), v[i], inner);
        for (int k = 0; k < p; k++)
            CrossProduct.AddScaled(kernel.AsSpan(k * p, p), inner[k], outer);
        for (int i = 0; i < Size; i++)
            result[i] = v[i] + CrossProduct.Dot(WhitenedRow(i), outer);
    }
}
