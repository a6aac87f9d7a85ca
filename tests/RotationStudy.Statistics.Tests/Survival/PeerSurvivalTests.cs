using System.Text.Json;
using RotationStudy.Benchmarks;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

/// <summary>The cohort of 300 persons: what R's survival 3.5-3 and cmprsk 2.2-11 found, against ours.</summary>
public class PeerSurvivalTests
{
    private static readonly PeerTable Table = Peers.Cohort.Knees;

    private static readonly CoxOptions Sandwich = new() { ClusterVariance = CoxClusterVariance.Sandwich };

    private static SurvivalTimes Times => SurvivalTimes.RightCensored(Table["t1"], [.. Table["st1"].Select(s => s == 1)]);

    private static CompetingTimes Causes => CompetingTimes.RightCensored(Table["t1"], [.. Table["cr"].Select(c => (int)c)]);

    private static string[] Sex => [.. Table["female"].Select(f => f == 1 ? "1" : "0")];

    private static DesignMatrix Columns(PeerTable rows)
        => DesignMatrix.FromColumns(("av", rows["av"]), ("tfa", rows["tfa"]), ("lax", rows["lax"]), ("age", rows["age"]), ("female", rows["female"]));

    [Fact]
    public void First_and_recurrent_events_with_clustered_errors()
    {
        CoxFit first = CoxRegression.Fit(Times, Columns(Table), Clusters.From(Table.Person), options: Sandwich);
        Check("cox_efron_cluster", first);
        PeerTable rows = Peers.Cohort.Intervals;
        SurvivalTimes recurrent = SurvivalTimes.CountingProcess(rows["start"], rows["stop"], [.. rows["ev"].Select(e => e == 1)]);
        Check("ag_recurrent_cluster", CoxRegression.Fit(recurrent, Columns(rows), Clusters.From(rows.Person), options: Sandwich));
    }

    private static void Check(string name, CoxFit fit)
    {
        JsonElement expected = Peers.Estimates(name);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_robust"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("loglik")[1].GetDouble(), fit.LogLikelihood, 1e-12);
        Close.Relative(expected.GetProperty("score").GetDouble(), fit.ScoreTest.Statistic, 1e-8);
        double[] naive = Peers.Numbers(expected.GetProperty("se_naive"));
        for (int j = 0; j < naive.Length; j++)
            Close.Relative(naive[j], Math.Sqrt(fit.ModelCovariance[j, j]), 1e-8);
    }

    [Fact]
    public void Proportional_hazards()
    {
        ProportionalHazardsResult found = ProportionalHazardsTest.Test(CoxRegression.Fit(Times, Columns(Table)));
        double[] expected = Peers.Numbers(Peers.Estimates("cox_zph").GetProperty("chisq"));
        for (int j = 0; j < 5; j++)
            Close.Relative(expected[j], found.ByColumn[j].Test.Statistic, 1e-8);
        Close.Relative(expected[5], found.Global.Statistic, 1e-8);
    }

    [Fact]
    public void Survival_curves_and_log_rank()
    {
        JsonElement expected = Peers.Estimates("km_logrank");
        Close.Relative(expected.GetProperty("logrank_chisq").GetDouble(), LogRank.Test(Times, Sex).Test.Statistic, 1e-10);
        IReadOnlyList<SurvivalCurve> curves = KaplanMeier.EstimateByGroup(Times, Sex, options: new() { Transform = IntervalTransform.Log });
        for (int i = 0; i < 6; i++)
        {
            SurvivalStep step = curves.Single(c => c.Name == (i < 3 ? "0" : "1")).At(expected.GetProperty("times")[i].GetDouble());
            Close.Relative(expected.GetProperty("surv")[i].GetDouble(), step.Survival, 1e-10);
            Close.Relative(expected.GetProperty("se_greenwood")[i].GetDouble(), step.StandardError, 1e-8);
            Close.Relative(expected.GetProperty("lower_log")[i].GetDouble(), step.Interval.Lower, 1e-8);
        }
    }

    [Fact]
    public void Cumulative_incidence_under_both_variances_and_Grays_test()
    {
        JsonElement jackknife = Peers.Estimates("aalen_johansen");
        JsonElement aalen = Peers.Estimates("cuminc_gray_test");
        for (int cause = 1; cause <= 2; cause++)
        {
            CumulativeIncidenceCurve curve = AalenJohansen.Estimate(Causes, cause);
            IReadOnlyList<CumulativeIncidenceCurve> bySex = AalenJohansen.EstimateByGroup(Causes, cause, Sex, options: new() { Variance = CumulativeIncidenceVariance.Aalen });
            for (int t = 0; t < 3; t++)
            {
                double time = jackknife.GetProperty("times")[t].GetDouble();
                Close.Relative(jackknife.GetProperty("pstate")[t][cause].GetDouble(), curve.At(time).Incidence, 1e-10);
                Close.Relative(jackknife.GetProperty("se_ij")[t][cause].GetDouble(), curve.At(time).StandardError, 1e-8);
                for (int g = 0; g < 2; g++)
                {
                    IncidenceStep step = bySex.Single(c => c.Name == (g == 0 ? "0" : "1")).At(time);
                    Close.Relative(aalen.GetProperty("est")[(2 * (cause - 1)) + g][t].GetDouble(), step.Incidence, 1e-10);
                    Close.Relative(aalen.GetProperty("var")[(2 * (cause - 1)) + g][t].GetDouble(), step.StandardError * step.StandardError, 1e-8);
                }
            }
            Close.Relative(aalen.GetProperty("tests")[cause - 1][0].GetDouble(), GrayTest.Test(Causes, cause, Sex).Statistic, 1e-8);
        }
    }

    [Fact]
    public void Subdistribution_hazards()
    {
        JsonElement expected = Peers.Estimates("finegray_crr");
        FineGrayFit fit = FineGray.Fit(Causes, 1, Columns(Table), options: new() { ClusterVariance = CoxClusterVariance.Sandwich });
        double[] coefficients = Peers.Numbers(expected.GetProperty("coef"));
        for (int j = 0; j < 5; j++)
        {
            Close.Relative(coefficients[j], fit.Coefficients.Values[j], 1e-6);
            Close.Relative(expected.GetProperty("se")[j].GetDouble(), fit.Coefficients.StandardError(j), 1e-6);
        }
        Close.Relative(expected.GetProperty("loglik").GetDouble(), fit.LogLikelihood, 1e-10);
    }
}
