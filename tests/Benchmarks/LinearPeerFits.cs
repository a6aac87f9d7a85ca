using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Benchmarks;

/// <summary>The linear model of the comparison, with the variances the other libraries were asked for, and with the small-sample one they do not have.</summary>
internal static class LinearPeerFits
{
    internal static IReadOnlyList<PeerFit> All { get; } =
    [
        new("ols_hc3_cr1", "ols_hc3_cr1", cohort =>
        {
            (DesignMatrix x, double[] y, Clusters persons) = Design(cohort.Visits);
            return () =>
            {
                LinearRegressionResult fit = LinearRegression.Fit(x, y);
                _ = fit.Robust(HeteroskedasticityVariance.HC3);
                _ = fit.ClusterRobust(persons, ClusterVariance.CR1);
            };
        }),
        new("ols_cr2_satterthwaite", null, cohort =>
        {
            (DesignMatrix x, double[] y, Clusters persons) = Design(cohort.Visits);
            return () => LinearRegression.Fit(x, y).ClusterRobust(persons, ClusterVariance.CR2);
        }),
    ];

    internal static (DesignMatrix X, double[] Y, Clusters Persons) Design(PeerTable visits)
    {
        DesignMatrix x = DesignMatrix.WithIntercept(
            ("yr", visits["yr"]), ("av", visits["av"]), ("tfa", visits["tfa"]), ("lax", visits["lax"]), ("age", visits["age"]), ("female", visits["female"]));
        return (x, visits["out"], Clusters.From(visits.Person));
    }
}
