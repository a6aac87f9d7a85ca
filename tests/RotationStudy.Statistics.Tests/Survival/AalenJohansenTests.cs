using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class AalenJohansenTests
{
    private static readonly AalenJohansenOptions Aalen = new() { Variance = CumulativeIncidenceVariance.Aalen };

    [Fact]
    public void Five_rows_by_hand()
    {
        // S before: 1, 4/5, 4/5 x 2/3 (one censored at 2 is gone by 3). Cause 1 at 1 and 4, cause 2 at 3.
        CompetingTimes times = CompetingTimes.RightCensored([1, 2, 3, 4, 5], [1, 0, 2, 1, 0]);
        CumulativeIncidenceCurve curve = AalenJohansen.Estimate(times, 1);
        Assert.Equal([1.0, 3.0, 4.0], curve.Steps.Select(s => s.Time));
        Close.Relative(0.2, curve.At(1).Incidence, 1e-15);
        Close.Relative(0.2, curve.At(3.5).Incidence, 1e-15);
        Close.Relative(0.2 + (0.8 * 2 / 3 / 2), curve.At(4).Incidence, 1e-15);
        Close.Relative(0.8 / 3, AalenJohansen.Estimate(times, 2).At(5).Incidence, 1e-15);
        Assert.Equal(0, curve.At(0.5).Incidence);
    }

    [Fact]
    public void Melanoma_deaths_agree_with_the_reference_under_both_variances()
    {
        string[] sex = CompetingDelayed.Melanoma.Text("sex");
        for (int cause = 1; cause <= 2; cause++)
        {
            IReadOnlyList<CumulativeIncidenceCurve> aalen = AalenJohansen.EstimateByGroup(CompetingDelayed.MelanomaTimes, cause, sex, options: Aalen);
            IReadOnlyList<CumulativeIncidenceCurve> jackknife = AalenJohansen.EstimateByGroup(CompetingDelayed.MelanomaTimes, cause, sex);
            for (int g = 0; g < 2; g++)
            {
                string name = g == 0 ? "0" : "1";
                for (int t = 0; t < 3; t++)
                {
                    IncidenceStep a = aalen.Single(c => c.Name == name).At(1000 * (t + 1));
                    int row = (2 * (cause - 1)) + g;
                    Close.Relative(CompetingDelayed.Melanoma.Number($"cases/cuminc_aalen_var/est/{row}/{t}"), a.Incidence, 1e-10);
                    Close.Relative(CompetingDelayed.Melanoma.Number($"cases/cuminc_aalen_var/var/{row}/{t}"), a.StandardError * a.StandardError, 1e-8);
                    IncidenceStep j = jackknife.Single(c => c.Name == name).At(1000 * (t + 1));
                    Close.Relative(CompetingDelayed.Melanoma.Number($"cases/aalen_johansen_ij_se/se_ij/{(3 * g) + t}/{cause}"), j.StandardError, 1e-8);
                }
            }
        }
    }

    [Fact]
    public void Delayed_entry_with_clusters_agrees_with_the_reference()
    {
        Compare("aj_delayed_cluster", cause => AalenJohansen.Estimate(CompetingDelayed.Delayed, cause, CompetingDelayed.Clusters));
        Compare("aj_delayed", cause => AalenJohansen.Estimate(CompetingDelayed.Delayed, cause));
        Compare("aj_from_zero", cause => AalenJohansen.Estimate(CompetingDelayed.FromZero, cause));
    }

    private static void Compare(string name, Func<int, CumulativeIncidenceCurve> estimate)
    {
        for (int cause = 1; cause <= 2; cause++)
        {
            CumulativeIncidenceCurve curve = estimate(cause);
            int i = 0;
            foreach (System.Text.Json.JsonElement time in CompetingDelayed.Case.Element($"cases/{name}/time").EnumerateArray())
            {
                IncidenceStep step = curve.At(time.GetDouble());
                Assert.Equal(CompetingDelayed.Case.Number($"cases/{name}/n_risk/{i}"), step.AtRisk);
                Close.Relative(CompetingDelayed.Case.Number($"cases/{name}/pstate/{i}/{cause}"), step.Incidence, 1e-10);
                Close.Relative(CompetingDelayed.Case.Number($"cases/{name}/se/{i}/{cause}"), step.StandardError, 1e-8);
                i++;
            }
        }
    }

    [Fact]
    public void Tied_causes_agree_with_the_reference_under_Aalens_variance()
    {
        for (int cause = 1; cause <= 2; cause++)
        {
            IReadOnlyList<CumulativeIncidenceCurve> arms = AalenJohansen.EstimateByGroup(CompetingDelayed.FromZero, cause, CompetingDelayed.Arm, options: Aalen);
            for (int g = 0; g < 2; g++)
            {
                for (int t = 0; t < 3; t++)
                {
                    IncidenceStep step = arms.Single(c => c.Name == (g == 0 ? "p" : "q")).At(3 * (t + 1));
                    int row = (2 * (cause - 1)) + g;
                    Close.Relative(CompetingDelayed.Case.Number($"cases/cuminc_arm/est/{row}/{t}"), step.Incidence, 1e-10);
                    Close.Relative(CompetingDelayed.Case.Number($"cases/cuminc_arm/var/{row}/{t}"), step.StandardError * step.StandardError, 1e-8);
                }
            }
        }
    }

    [Fact]
    public void With_one_cause_the_curve_is_one_minus_Kaplan_Meier()
    {
        CompetingTimes one = CompetingTimes.CountingProcess(
            CompetingDelayed.Delayed.AnyCause.Entry.ToArray(),
            CompetingDelayed.Delayed.AnyCause.Exit.ToArray(),
            [.. CompetingDelayed.Causes.Select(c => c > 0 ? 1 : 0)]);
        SurvivalCurve survival = KaplanMeier.Estimate(one.AnyCause, CompetingDelayed.Clusters);
        CumulativeIncidenceCurve incidence = AalenJohansen.Estimate(one, 1, CompetingDelayed.Clusters);
        for (int i = 0; i < survival.Steps.Count; i++)
        {
            Close.Relative(1 - survival.Steps[i].Survival, incidence.Steps[i].Incidence, 1e-12);
            Close.Relative(survival.Steps[i].StandardError, incidence.Steps[i].StandardError, 1e-9);
        }
    }

    [Fact]
    public void Incidences_and_survival_sum_to_one()
    {
        double total = AalenJohansen.Estimate(CompetingDelayed.Delayed, 1).At(9).Incidence
            + AalenJohansen.Estimate(CompetingDelayed.Delayed, 2).At(9).Incidence
            + KaplanMeier.Estimate(CompetingDelayed.Delayed.AnyCause).At(9).Survival;
        Close.Relative(1, total, 1e-12);
    }

    [Fact]
    public void Edges_are_answered_or_refused()
    {
        CompetingTimes times = CompetingTimes.RightCensored([1, 1, 1], [1, 2, 1]);
        CumulativeIncidenceCurve all = AalenJohansen.Estimate(times, 1);
        Close.Relative(2.0 / 3, all.At(1).Incidence, 1e-15);
        Close.Relative(Math.Sqrt(2.0 / 27), all.At(1).StandardError, 1e-12);
        Assert.Equal(0, AalenJohansen.Estimate(times, 3).At(1).Incidence);
        Assert.Contains("independent", Assert.Throws<InvalidInputError>(() => AalenJohansen.Estimate(times, 1, Clusters.EachRow(3), Aalen)).Message, StringComparison.Ordinal);
        Assert.Contains("numbered from 1", Assert.Throws<InvalidInputError>(() => AalenJohansen.Estimate(times, 0)).Message, StringComparison.Ordinal);
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => CompetingTimes.RightCensored([1, 2], [0, -1])).Row);
        Assert.Throws<InvalidInputError>(() => all.At(2));
    }
}
