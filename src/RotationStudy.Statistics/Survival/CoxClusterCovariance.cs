namespace RotationStudy.Statistics.Survival;

/// <summary>Which cluster-robust covariance a proportional-hazards fit reports.</summary>
public enum CoxClusterVariance
{
    /// <summary>The sandwich of Lin and Wei (1989): right for many clusters, too small for few. Normal reference.</summary>
    Sandwich,

    /// <summary>The sandwich times G/(G-1), with Student's t on G-1 degrees of freedom.</summary>
    SandwichScaled,
}

/// <summary>Sandwich covariance of a proportional-hazards fit: score residuals summed within clusters between two inverse informations.</summary>
internal static class CoxClusterCovariance
{
    internal static Coefficients Coefficients(
        CoxPartialLikelihood likelihood,
        double[] beta,
        SymmetricMatrix model,
        Clusters clusters,
        CoxClusterVariance? choice)
    {
        CoxClusterVariance variance = choice ?? CoxClusterVariance.Sandwich;
        SymmetricMatrix sandwich = Sandwich(CoxScoreResiduals.Weighted(likelihood), model, likelihood.Sets.Row, clusters);
        if (variance == CoxClusterVariance.Sandwich)
            return new Coefficients(beta, sandwich, "cluster-robust, Lin-Wei sandwich");
        double[] df = new double[beta.Length];
        Array.Fill(df, clusters.Count - 1);
        return new Coefficients(beta, sandwich.Scale(clusters.Count / (clusters.Count - 1.0)), "cluster-robust, Lin-Wei sandwich times G/(G-1)", df);
    }

    internal static SymmetricMatrix Sandwich(double[] residuals, SymmetricMatrix bread, int[] rowOfPosition, Clusters clusters)
    {
        int p = bread.Size;
        double[] sums = SumByCluster(residuals, p, rowOfPosition, clusters);
        double[] meat = new double[p * p];
        for (int g = 0; g < clusters.Count; g++)
        {
            ReadOnlySpan<double> u = sums.AsSpan(g * p, p);
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < p; j++)
                    meat[(i * p) + j] += u[i] * u[j];
            }
        }
        return new SymmetricMatrix(bread.Names, Product(Product(bread.Values, meat, p), bread.Values, p));
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
