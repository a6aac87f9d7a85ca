using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>F test of several contrasts of the coefficients at once, C b = 0, with a cluster-robust covariance.</summary>
/// <remarks>
/// With Q = (Cb)' (C V C')^-1 Cb and q contrasts:
/// <list type="bullet">
/// <item>CR2: Hotelling's T^2 approximation, F = (eta - q + 1) / (eta q) Q on q and eta - q + 1 degrees of freedom,
/// with eta matched to the total variance of the estimated covariance under the working model (Tipton and Pustejovsky
/// 2015, their AHZ test). For one contrast this is the square of the t test with Satterthwaite degrees of
/// freedom.</item>
/// <item>CR1, CR1ClustersOnly, CR3: F = Q / q on q and G - 1 degrees of freedom. Far too liberal when q is not small
/// beside G.</item>
/// <item>CR0: chi-square on q degrees of freedom.</item>
/// </list>
/// <para><b>Edges</b>: eta at or below q - 1 leaves no denominator degrees of freedom and is refused, as are more
/// contrasts than the clusters can carry.</para>
/// <para><b>Sources</b>: Tipton E, Pustejovsky JE. J Educ Behav Stat 2015;40:604-634; Pustejovsky JE, Tipton E. J Bus
/// Econ Stat 2018;36:672-683, section 4.</para>
/// <para><b>Checked against</b>: Linear/cluster_robust.</para>
/// </remarks>
internal static class ClusterRobustWaldTest
{
    /// <summary>Tests q contrasts.</summary>
    /// <exception cref="RankDeficientError">The contrasts depend on one another, or there are too few clusters for them.</exception>
    /// <exception cref="TooFewDataError">Too few clusters for so many contrasts.</exception>
    internal static TestResult Test(WorkingLeastSquares fit, Clusters clusters, ClusterVariance variance, Contrasts contrasts)
    {
        int q = contrasts.Count;
        double statistic = contrasts.WaldStatistic(ClusterRobustCovariance.Estimate(fit, clusters, variance));
        int g = ClusterRobustCovariance.UsedClusters(fit, clusters);
        if (variance == ClusterVariance.CR0)
            return TestResult.ChiSquare("Wald chi-square, cluster-robust, CR0", statistic, q);
        if (variance != ClusterVariance.CR2)
            return TestResult.F($"Wald F, cluster-robust, {ClusterRobustCovariance.Label(variance)}", statistic / q, q, g - 1);
        double eta = HotellingDegreesOfFreedom(fit, clusters, contrasts);
        double denominator = eta - q + 1;
        if (denominator <= 0)
        {
            throw new TooFewDataError(
                $"{g} clusters leave no degrees of freedom to test {q} contrasts at once",
                "Test fewer contrasts, or each by itself.");
        }
        return TestResult.F("Hotelling T-squared F, cluster-robust, CR2", statistic * denominator / (eta * q), q, denominator);
    }

    // eta = q (q + 1) / total variance, for contrasts made orthonormal under the working model so that E D = I.
    private static double HotellingDegreesOfFreedom(WorkingLeastSquares fit, Clusters clusters, Contrasts contrasts)
    {
        int q = contrasts.Count;
        int p = contrasts.Columns;
        double[] whitened = new double[q * p];
        for (int s = 0; s < q; s++)
            fit.WhitenContrast(contrasts.Row(s), whitened.AsSpan(s * p, p));
        double[] omega = new double[q * q];
        for (int s = 0; s < q; s++)
        {
            for (int t = 0; t < q; t++)
                omega[(s * q) + t] = CrossProduct.Dot(whitened.AsSpan(s * p, p), whitened.AsSpan(t * p, p));
        }
        double[] root = SymmetricEigen.Of(omega, q).Rebuild(e => 1 / Math.Sqrt(e));
        double[] orthonormal = SmallMatrix.Product(root, contrasts.Values, q, q, p);
        ClusterAdjustment adjustment = new(fit, clusters, ClusterVariance.CR2);
        return q * (q + 1) / SatterthwaiteMoments.TotalVariance(fit, adjustment, clusters.Count, orthonormal, q);
    }
}
