using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Benchmarks;

/// <summary>Binary and count models of the comparison, each with cluster-robust variance as the other libraries were asked for.</summary>
internal static class GeneralizedLinearPeerFits
{
    private static readonly GeneralizedLinearOptions ClusterSums = new() { Variance = ClusterVariance.CR0 };

    internal static IReadOnlyList<PeerFit> All { get; } =
    [
        new("logit_cluster", "logit_cluster", cohort =>
        {
            (DesignMatrix x, Clusters clusters, double[] _) = Design(cohort.Knees);
            double[] any = cohort.Knees["any"];
            return () => LogisticRegression.Fit(x, any, clusters, ClusterSums);
        }),
        new("poisson_rate_cluster", "poisson_rate_cluster", cohort =>
        {
            (DesignMatrix x, Clusters clusters, double[] logYears) = Design(cohort.Knees);
            double[] count = cohort.Knees["nd"];
            return () => PoissonRegression.Fit(x, count, logYears, clusters, ClusterSums);
        }),
        new("negbin_rate", "negbin_rate", cohort =>
        {
            (DesignMatrix x, Clusters _, double[] logYears) = Design(cohort.Knees);
            double[] count = cohort.Knees["nd"];
            return () => NegativeBinomialRegression.Fit(x, count, logYears);
        }),
    ];

    internal static (DesignMatrix X, Clusters Clusters, double[] LogYears) Design(PeerTable knees)
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("av", knees["av"]), ("tfa", knees["tfa"]), ("lax", knees["lax"]), ("age", knees["age"]), ("female", knees["female"]));
        double[] logYears = [.. knees["pyr"].Select(t => Math.Log(t))];
        return (x, Clusters.From(knees.Person), logYears);
    }
}
