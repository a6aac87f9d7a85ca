using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Benchmarks;

/// <summary>Survival, recurrent events and competing risks of the comparison.</summary>
internal static class SurvivalPeerFits
{
    internal static IReadOnlyList<PeerFit> All { get; } =
    [
        new("cox_efron_cluster", "cox_efron_cluster", cohort =>
        {
            (SurvivalTimes times, DesignMatrix x, Clusters persons) = Knees(cohort);
            return () => CoxRegression.Fit(times, x, persons);
        }),
        new("ag_recurrent_cluster", null, cohort =>
        {
            PeerTable rows = cohort.Intervals;
            SurvivalTimes times = SurvivalTimes.CountingProcess(rows["start"], rows["stop"], [.. rows["ev"].Select(e => e == 1)]);
            DesignMatrix x = Columns(rows);
            Clusters persons = Clusters.From(rows.Person);
            return () => CoxRegression.Fit(times, x, persons);
        }),
        new("cox_zph", null, cohort =>
        {
            (SurvivalTimes times, DesignMatrix x, Clusters _) = Knees(cohort);
            CoxFit fit = CoxRegression.Fit(times, x);
            return () => ProportionalHazardsTest.Test(fit);
        }),
        new("km_logrank", null, cohort =>
        {
            (SurvivalTimes times, DesignMatrix _, Clusters persons) = Knees(cohort);
            string[] sex = Sex(cohort);
            return () =>
            {
                KaplanMeier.EstimateByGroup(times, sex, persons);
                LogRank.Test(times, sex, persons);
            };
        }),
        new("aalen_johansen", null, cohort =>
        {
            CompetingTimes times = Causes(cohort);
            Clusters persons = Clusters.From(cohort.Knees.Person);
            return () =>
            {
                AalenJohansen.Estimate(times, 1, persons);
                AalenJohansen.Estimate(times, 2, persons);
            };
        }),
        new("cuminc_gray_test", null, cohort =>
        {
            CompetingTimes times = Causes(cohort);
            string[] sex = Sex(cohort);
            AalenJohansenOptions aalen = new() { Variance = CumulativeIncidenceVariance.Aalen };
            return () =>
            {
                for (int cause = 1; cause <= 2; cause++)
                {
                    AalenJohansen.EstimateByGroup(times, cause, sex, options: aalen);
                    GrayTest.Test(times, cause, sex);
                }
            };
        }),
        new("finegray_crr", null, cohort =>
        {
            CompetingTimes times = Causes(cohort);
            DesignMatrix x = Columns(cohort.Knees);
            return () => FineGray.Fit(times, 1, x, options: new() { ClusterVariance = CoxClusterVariance.Sandwich });
        }),
    ];

    internal static DesignMatrix Columns(PeerTable rows)
        => DesignMatrix.FromColumns(("av", rows["av"]), ("tfa", rows["tfa"]), ("lax", rows["lax"]), ("age_enrol", rows["age"]), ("female", rows["female"]));

    internal static (SurvivalTimes Times, DesignMatrix X, Clusters Persons) Knees(PeerCohort cohort)
        => (SurvivalTimes.RightCensored(cohort.Knees["t1"], [.. cohort.Knees["st1"].Select(s => s == 1)]), Columns(cohort.Knees), Clusters.From(cohort.Knees.Person));

    internal static CompetingTimes Causes(PeerCohort cohort)
        => CompetingTimes.RightCensored(cohort.Knees["t1"], [.. cohort.Knees["cr"].Select(c => (int)c)]);

    internal static string[] Sex(PeerCohort cohort) => [.. cohort.Knees["female"].Select(f => f == 1 ? "female" : "male")];
}
