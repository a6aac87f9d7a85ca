using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>Which cluster-robust covariance a proportional-hazards fit reports.</summary>
public enum CoxClusterVariance
{
    /// <summary>
    /// The sandwich with each cluster's score blown up as if the cluster had been left out of the fit, the correction of Mancl and
    /// DeRouen (2001) carried over to the partial likelihood; Student's t with Satterthwaite's degrees of freedom, which are
    /// fewer than G - 1 where a few clusters carry most of the information (Fay and Graubard 2001). The default.
    /// </summary>
    LeaveOneOut,

    /// <summary>The sandwich of Lin and Wei (1989), normal reference: what libraries print; too small for few clusters.</summary>
    Sandwich,
}

/// <summary>Covariance of a proportional-hazards fit from score residuals summed within clusters.</summary>
internal static class CoxClusterCovariance
{
    internal static Coefficients Coefficients(
        CoxPartialLikelihood likelihood,
        double[] beta,
        SymmetricMatrix model,
        Clusters clusters,
        CoxClusterVariance variance)
    {
        double[] residuals = CoxScoreResiduals.Weighted(likelihood);
        if (variance == CoxClusterVariance.Sandwich)
            return new Coefficients(beta, Sandwich(residuals, model, likelihood.Sets.Row, clusters), "cluster-robust, Lin-Wei sandwich");
        double[] shares = CoxClusterInformation.Shares(likelihood, clusters);
        double[] scores = SumByCluster(residuals, model.Size, likelihood.Sets.Row, clusters);
        return LeaveOneOut(beta, likelihood.Information, shares, scores, model.Names, "cluster-robust, leave-one-out corrected");
    }

    /// <summary>Sum over clusters of (dfbeta)(dfbeta)', dfbeta the inverse information times the cluster's summed residuals.</summary>
    internal static SymmetricMatrix Sandwich(double[] residuals, SymmetricMatrix bread, int[] rowOfPosition, Clusters clusters)
    {
        int p = bread.Size;
        double[] sums = SumByCluster(residuals, p, rowOfPosition, clusters);
        double[] meat = GroupDifferences.SumOfSquares(sums, p);
        return new SymmetricMatrix(bread.Names, Product(Product(bread.Values, meat, p), bread.Values, p));
    }

    // One Newton step away from the full fit without the cluster: M u, M = (information - share)^-1, u the cluster's score. Were
    // the model true, M u had variance M share M'; with c_g its diagonal entry the sum of squares has (sum c)^2 / sum c^2 df.
    internal static Coefficients LeaveOneOut(
        double[] beta,
        ReadOnlySpan<double> information,
        double[] shares,
        double[] scores,
        IReadOnlyList<string> names,
        string method)
    {
        int p = names.Count;
        int clusters = scores.Length / p;
        double[] steps = new double[scores.Length];
        double[] covariance = new double[p * p];
        double[] rest = new double[p * p];
        double[] factor = new double[p * p];
        double[] sum = new double[p];
        double[] squares = new double[p];
        for (int g = 0; g < clusters; g++)
        {
            ReadOnlySpan<double> share = shares.AsSpan(g * p * p, p * p);
            for (int i = 0; i < rest.Length; i++)
                rest[i] = information[i] - share[i];
            InvertWithoutCluster(rest, factor, names);
            Span<double> moved = steps.AsSpan(g * p, p);
            for (int i = 0; i < p; i++)
            {
                ReadOnlySpan<double> row = rest.AsSpan(i * p, p);
                moved[i] = CrossProduct.Dot(row, scores.AsSpan(g * p, p));
                double expected = 0;
                for (int j = 0; j < p; j++)
                    expected += row[j] * CrossProduct.Dot(share.Slice(j * p, p), row);
                sum[i] += expected;
                squares[i] += expected * expected;
            }
            AddSquare(moved, covariance);
        }
        for (int i = 0; i < p; i++)
            sum[i] = Math.Min(clusters - 1, sum[i] * sum[i] / squares[i]);
        return new Coefficients(beta, new SymmetricMatrix(names, covariance), method, sum) { LeaveOut = LeaveOutShifts.FromSteps(steps, p) };
    }

    // In place and without allocation, since it is done for every cluster: a = L L', then L^-1, then its cross-product.
    private static void InvertWithoutCluster(double[] a, double[] l, IReadOnlyList<string> names)
    {
        const double Tolerance = 1e-11;
        int p = names.Count;
        for (int j = 0; j < p; j++)
        {
            double pivot = a[(j * p) + j] - CrossProduct.Dot(l.AsSpan(j * p, j), l.AsSpan(j * p, j));
            if (!(pivot > Tolerance * a[(j * p) + j]))
            {
                throw new TooFewDataError(
                    $"without one cluster nothing is known about {names[j]}",
                    "The column varies in one cluster only: leave it out, or ask for the plain sandwich.");
            }
            l[(j * p) + j] = Math.Sqrt(pivot);
            for (int i = j + 1; i < p; i++)
                l[(i * p) + j] = (a[(i * p) + j] - CrossProduct.Dot(l.AsSpan(i * p, j), l.AsSpan(j * p, j))) / l[(j * p) + j];
        }
        InverseFromFactor(a, l, p);
    }

    private static void InverseFromFactor(double[] a, double[] l, int p)
    {
        Array.Clear(a);
        for (int j = 0; j < p; j++)
        {
            for (int i = j; i < p; i++)
            {
                double value = i == j ? 1 : 0;
                for (int k = j; k < i; k++)
                    value -= l[(i * p) + k] * a[(k * p) + j];
                a[(i * p) + j] = value / l[(i * p) + i];
            }
        }
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double value = 0;
                for (int k = i; k < p; k++)
                    value += a[(k * p) + i] * a[(k * p) + j];
                l[(i * p) + j] = value;
            }
        }
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j <= i; j++)
                a[(i * p) + j] = a[(j * p) + i] = l[(i * p) + j];
        }
    }

    private static void AddSquare(ReadOnlySpan<double> u, double[] sum)
    {
        for (int i = 0; i < u.Length; i++)
        {
            for (int j = 0; j < u.Length; j++)
                sum[(i * u.Length) + j] += u[i] * u[j];
        }
    }

    /// <summary>Sums over the rows of each cluster; values are column after column by position, the result cluster after cluster.</summary>
    internal static double[] SumByCluster(double[] values, int p, int[] rowOfPosition, Clusters clusters)
    {
        int n = rowOfPosition.Length;
        double[] sums = new double[clusters.Count * p];
        for (int q = 0; q < n; q++)
        {
            int at = clusters.ClusterOfRow[rowOfPosition[q]] * p;
            for (int j = 0; j < p; j++)
                sums[at + j] += values[(j * n) + q];
        }
        return sums;
    }

    internal static double[] Product(ReadOnlySpan<double> a, ReadOnlySpan<double> b, int p)
    {
        double[] result = new double[p * p];
        for (int i = 0; i < p; i++)
        {
            for (int k = 0; k < p; k++)
            {
                for (int j = 0; j < p; j++)
                    result[(i * p) + j] += a[(i * p) + k] * b[(k * p) + j];
            }
        }
        return result;
    }
}
