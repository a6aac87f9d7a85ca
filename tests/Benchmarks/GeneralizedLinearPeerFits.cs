using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Shape;

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
        new("polr_laxity", "ordered_logit", cohort =>
        {
            PeerTable persons = cohort.Persons;
            DesignMatrix x = DesignMatrix.FromColumns(("age", persons["age"]), ("female", persons["female"]), ("avm", persons["avm"]));
            int[] laxity = [.. persons["lax"].Select(v => (int)v)];
            string[] labels = [.. Enumerable.Range(0, 10).Select(k => k.ToString(CultureInfo.InvariantCulture))];
            return () => ProportionalOddsRegression.Fit(x, laxity, labels);
        }),
        new("rcs4_logit", null, cohort =>
        {
            PeerTable knees = cohort.Knees;
            double[] any = knees["any"];
            double[] av = knees["av"];
            return () =>
            {
                // The basis is part of the fit, as it is in the other library's call.
                RestrictedCubicSpline spline = RestrictedCubicSpline.AtQuantiles(av);
                DesignMatrix x = DesignMatrix.WithIntercept([.. Curve.Columns(spline, "av", av), ("tfa", knees["tfa"]), ("lax", knees["lax"]), ("age", knees["age"]), ("female", knees["female"])]);
                LogisticRegression.Fit(x, any);
            };
        }),
    ];

    internal static (DesignMatrix X, Clusters Clusters, double[] LogYears) Design(PeerTable knees)
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("av", knees["av"]), ("tfa", knees["tfa"]), ("lax", knees["lax"]), ("age", knees["age"]), ("female", knees["female"]));
        double[] logYears = [.. knees["pyr"].Select(t => Math.Log(t))];
        return (x, Clusters.From(knees.Person), logYears);
    }
}
