using RotationStudy.Statistics;
using RotationStudy.Statistics.Clustered;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Benchmarks;

/// <summary>Marginal and mixed models of the comparison.</summary>
internal static class MixedPeerFits
{
    internal static IReadOnlyList<PeerFit> All { get; } =
    [
        new("gee_logit_exch", "gee_logit_exch", cohort =>
        {
            (DesignMatrix x, Clusters clusters, double[] _) = GeneralizedLinearPeerFits.Design(cohort.Knees);
            double[] any = cohort.Knees["any"];
            return () => GeneralizedEstimatingEquations.Fit(x, any, clusters, MarginalFamily.Binomial);
        }),
        new("gee_poisson_exch", "gee_poisson_exch", cohort =>
        {
            (DesignMatrix x, Clusters clusters, double[] logYears) = GeneralizedLinearPeerFits.Design(cohort.Knees);
            double[] count = cohort.Knees["nd"];
            return () => GeneralizedEstimatingEquations.Fit(x, count, clusters, MarginalFamily.Poisson, logYears);
        }),
        new("lmm_ml", null, cohort => Outcome(cohort, LikelihoodCriterion.Full)),
        new("lmm_reml", "lmm_reml", cohort => Outcome(cohort, LikelihoodCriterion.Restricted)),
        new("glmm_logit_agq10", null, cohort =>
        {
            (DesignMatrix x, Clusters clusters, double[] _) = GeneralizedLinearPeerFits.Design(cohort.Knees);
            double[] any = cohort.Knees["any"];
            return () => GeneralizedLinearMixedModel.Fit(x, any, clusters, MixedOutcome.Binary);
        }),
    ];

    // Outcome score on years and covariates; persons with intercept and slope, knees within persons.
    private static Action Outcome(PeerCohort cohort, LikelihoodCriterion criterion)
    {
        PeerTable t = cohort.Visits;
        DesignMatrix x = DesignMatrix.WithIntercept(("yr", t["yr"]), ("av", t["av"]), ("tfa", t["tfa"]), ("lax", t["lax"]), ("age", t["age"]), ("female", t["female"]));
        RandomTerm[] terms =
        [
            new("person", Clusters.From(t.Person), DesignMatrix.WithIntercept(("yr", t["yr"]))),
            new("knee", Clusters.From(t.Knee)),
        ];
        double[] y = t["out"];
        return () => LinearMixedModel.Fit(x, y, terms, new LinearMixedModelOptions { Criterion = criterion });
    }
}
