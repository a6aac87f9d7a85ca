using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class KaplanMeierTests
{
    private static readonly ReferenceCase Gehan = ReferenceCase.Read("Survival/gehan_6mp");

    private static SurvivalTimes GehanTimes => SurvivalTimes.RightCensored(Gehan.Column("time"), [.. Gehan.Column("cens").Select(c => c == 1)]);

    [Fact]
    public void Six_rows_by_hand()
    {
        // At 1: 6 at risk, 2 events; one censored at 1 is still at risk. At 2: 3 at risk, 1 event. At 4: 1 at risk, 1 event.
        SurvivalCurve curve = KaplanMeier.Estimate(SurvivalTimes.RightCensored([1, 1, 1, 2, 3, 4], [true, true, false, true, false, true]));
        Assert.Equal([1.0, 2.0, 4.0], curve.Steps.Select(s => s.Time));
        Assert.Equal([6, 3, 1], curve.Steps.Select(s => s.AtRisk));
        Close.Relative(4.0 / 6, curve.Steps[0].Survival, 1e-15);
        Close.Relative(4.0 / 6 * 2 / 3, curve.Steps[1].Survival, 1e-15);
        Assert.Equal(0, curve.Steps[2].Survival);
        Close.Relative(4.0 / 6 * Math.Sqrt(2.0 / (6 * 4)), curve.Steps[0].StandardError, 1e-15);
        Close.Relative(4.0 / 9 * Math.Sqrt((2.0 / 24) + (1.0 / 6)), curve.Steps[1].StandardError, 1e-15);
        Assert.Equal([1.0, 3.0], curve.CensoringTimes);
        Assert.Equal([6, 6, 3, 2, 1, 0], curve.NumbersAtRisk([0.5, 1, 2, 3, 4, 5]));
    }

    [Theory]
    [InlineData(IntervalTransform.LogLog, "lower_loglog", "upper_loglog")]
    [InlineData(IntervalTransform.Log, "lower_log", "upper_log")]
    [InlineData(IntervalTransform.Plain, "lower_plain", "upper_plain")]
    public void Remission_times_of_Freireich_1963_agree_with_the_reference(IntervalTransform transform, string lower, string upper)
    {
        IReadOnlyList<SurvivalCurve> curves = KaplanMeier.EstimateByGroup(GehanTimes, Gehan.Text("treat"), options: new() { Transform = transform });
        SurvivalStep[] steps = [.. curves.Single(c => c.Name == "6-MP").Steps, .. curves.Single(c => c.Name == "control").Steps];
        for (int i = 0; i < steps.Length; i++)
        {
            Assert.Equal(Gehan.Number($"cases/km/time/{i}"), steps[i].Time);
            Assert.Equal(Gehan.Number($"cases/km/n_risk/{i}"), steps[i].AtRisk);
            Assert.Equal(Gehan.Number($"cases/km/n_event/{i}"), steps[i].Events);
            if (i == steps.Length - 1)
                continue;
            Close.Relative(Gehan.Number($"cases/km/surv/{i}"), steps[i].Survival, 1e-12);
            Close.Relative(Gehan.Number($"cases/km/se_greenwood/{i}"), steps[i].StandardError, 1e-10);
            Close.Relative(Gehan.Number($"cases/km/{lower}/{i}"), steps[i].Interval.Lower, 1e-8);
            Close.Relative(Gehan.Number($"cases/km/{upper}/{i}"), steps[i].Interval.Upper, 1e-8);
        }
    }

    [Fact]
    public void Remission_times_of_Freireich_1963_agree_with_recalled_figures()
    {
        // Freireich EJ et al., Blood 1963;21:699-716, as printed in textbooks; recalled, not re-read.
        SurvivalCurve treated = KaplanMeier.EstimateByGroup(GehanTimes, Gehan.Text("treat")).Single(c => c.Name == "6-MP");
        Close.Printed(0.857, treated.At(6).Survival, 3);
        Close.Printed(0.0764, treated.At(6).StandardError, 4);
        Close.Printed(0.753, treated.At(10).Survival, 3);
        Close.Printed(0.448, treated.At(23).Survival, 3);
    }

    [Fact]
    public void Medians_with_log_intervals_agree_with_the_reference()
    {
        IReadOnlyList<SurvivalCurve> curves = KaplanMeier.EstimateByGroup(GehanTimes, Gehan.Text("treat"), options: new() { Transform = IntervalTransform.Log });
        SurvivalQuantile treated = curves.Single(c => c.Name == "6-MP").Median;
        SurvivalQuantile control = curves.Single(c => c.Name == "control").Median;
        Assert.Equal((23, 16, double.PositiveInfinity), (treated.Value, treated.Interval.Lower, treated.Interval.Upper));
        Assert.Equal((8, 4, 12), (control.Value, control.Interval.Lower, control.Interval.Upper));
    }

    [Fact]
    public void Quantiles_of_the_lung_data_agree_with_the_reference()
    {
        ReferenceCase lung = ReferenceCase.Read("Survival/lung");
        SurvivalTimes times = SurvivalTimes.RightCensored(lung.Column("time"), [.. lung.Column("status").Select(s => s == 2)]);
        IReadOnlyList<SurvivalCurve> curves = KaplanMeier.EstimateByGroup(times, lung.Text("sex"), options: new() { Transform = IntervalTransform.Log });
        for (int sex = 0; sex < 2; sex++)
        {
            SurvivalCurve curve = curves.Single(c => c.Name == (sex + 1).ToString(System.Globalization.CultureInfo.InvariantCulture));
            for (int k = 0; k < 2; k++)
            {
                SurvivalQuantile quantile = curve.Quantile(k == 0 ? 0.25 : 0.5);
                Assert.Equal(lung.Number($"cases/quantiles_sex1_sex2_p25_p50/q/{sex}/{k}"), quantile.Value);
                Assert.Equal(lung.Number($"cases/quantiles_sex1_sex2_p25_p50/lower/{sex}/{k}"), quantile.Interval.Lower);
                Assert.Equal(lung.Number($"cases/quantiles_sex1_sex2_p25_p50/upper/{sex}/{k}"), quantile.Interval.Upper);
            }
        }
    }

    [Fact]
    public void Delayed_entry_with_clusters_agrees_with_the_reference()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        SurvivalCurve curve = KaplanMeier.Estimate(data.Delayed, data.Clusters, new() { Transform = IntervalTransform.Plain });
        double[] time = data.Numbers("cases/km_delayed_cluster/time");
        for (int i = 0; i < time.Length; i++)
        {
            SurvivalStep step = curve.At(time[i]);
            Assert.Equal(data.Case.Number($"cases/km_delayed_cluster/n_risk/{i}"), step.AtRisk);
            Close.Relative(data.Case.Number($"cases/km_delayed_cluster/surv/{i}"), step.Survival, 1e-10);
            Close.Relative(data.Case.Number($"cases/km_delayed_cluster/se/{i}"), step.StandardError, 1e-8);
            Close.Relative(data.Case.Number($"cases/km_delayed_cluster/lower/{i}"), step.Interval.Lower, 1e-8);
        }
    }

    [Fact]
    public void Groups_with_clusters_agree_with_the_reference()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        IReadOnlyList<SurvivalCurve> curves = KaplanMeier.EstimateByGroup(data.FromZero, data.Arm, data.Clusters);
        int at = 0;
        string[] arms = ["p", "q", "r"];
        for (int g = 0; g < 3; g++)
        {
            SurvivalCurve curve = curves.Single(c => c.Name == arms[g]);
            int size = (int)data.Case.Number($"cases/km_arm_cluster/size/{g}");
            for (int i = 0; i < size; i++, at++)
            {
                SurvivalStep step = curve.At(data.Case.Number($"cases/km_arm_cluster/time/{at}"));
                double expected = data.Case.Number($"cases/km_arm_cluster/surv/{at}");
                Assert.Equal(expected, step.Survival, 12);
                if (expected == 0)
                    continue;
                Close.Relative(data.Case.Number($"cases/km_arm_cluster/se/{at}"), step.StandardError, 1e-8);
                Close.Relative(data.Case.Number($"cases/km_arm_cluster/lower/{at}"), step.Interval.Lower, 1e-8);
                Close.Relative(data.Case.Number($"cases/km_arm_cluster/upper/{at}"), step.Interval.Upper, 1e-8);
            }
        }
    }

    [Fact]
    public void Clusters_of_one_without_censoring_give_the_binomial_error()
    {
        SurvivalTimes times = SurvivalTimes.RightCensored([1, 2, 3, 4, 5, 6, 7, 8], [true, true, true, true, true, true, true, true]);
        SurvivalCurve greenwood = KaplanMeier.Estimate(times);
        SurvivalCurve jackknife = KaplanMeier.Estimate(times, Clusters.EachRow(8));
        for (int i = 0; i < 7; i++)
        {
            double s = greenwood.Steps[i].Survival;
            Close.Relative(Math.Sqrt(s * (1 - s) / 8), greenwood.Steps[i].StandardError, 1e-12);
            Close.Relative(greenwood.Steps[i].StandardError, jackknife.Steps[i].StandardError, 1e-12);
        }
    }

    [Fact]
    public void Every_row_twice_in_its_cluster_gives_the_robust_error_of_the_rows_once()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        int n = data.Delayed.Rows;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        SurvivalCurve once = KaplanMeier.Estimate(data.Delayed, data.Clusters);
        SurvivalCurve doubled = KaplanMeier.Estimate(data.Delayed.SelectRows(twice), data.Clusters.SelectRows(twice));
        for (int i = 0; i < once.Steps.Count; i++)
        {
            Close.Relative(once.Steps[i].Survival, doubled.Steps[i].Survival, 1e-12);
            Close.Relative(once.Steps[i].StandardError, doubled.Steps[i].StandardError, 1e-9);
        }
    }

    [Fact]
    public void Splitting_follow_up_changes_nothing()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        (SurvivalTimes split, int[] rowOf) = SplitFollowUp.At(data.Delayed, 6.5);
        SurvivalCurve whole = KaplanMeier.Estimate(data.Delayed, data.Clusters);
        SurvivalCurve pieces = KaplanMeier.Estimate(split, data.Clusters.SelectRows(rowOf));
        for (int i = 0; i < whole.Steps.Count; i++)
        {
            Close.Relative(whole.Steps[i].Survival, pieces.Steps[i].Survival, 1e-14);
            Close.Relative(whole.Steps[i].StandardError, pieces.Steps[i].StandardError, 1e-10);
        }
    }

    [Fact]
    public void Shuffling_rows_changes_nothing()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        int[] order = SplitFollowUp.Shuffled(data.Delayed.Rows, 5);
        SurvivalCurve a = KaplanMeier.Estimate(data.Delayed);
        SurvivalCurve b = KaplanMeier.Estimate(data.Delayed.SelectRows(order));
        Assert.Equal(a.Steps, b.Steps);
    }

    [Fact]
    public void Without_events_the_curve_is_flat_and_no_quantile_is_reached()
    {
        SurvivalCurve curve = KaplanMeier.Estimate(SurvivalTimes.RightCensored([2, 3], [false, false]));
        Assert.Empty(curve.Steps);
        Assert.Equal(1, curve.At(3).Survival);
        Assert.Equal(double.PositiveInfinity, curve.Median.Value);
    }

    [Fact]
    public void When_all_have_the_event_at_once_the_curve_falls_to_zero()
    {
        SurvivalCurve curve = KaplanMeier.Estimate(SurvivalTimes.RightCensored([2, 2, 2], [true, true, true]), Clusters.EachRow(3));
        Assert.Equal((0.0, 0.0), (curve.Steps[0].Survival, curve.Steps[0].StandardError));
        Assert.Equal(1, curve.Steps[0].Interval.Upper);
        Assert.Equal(2, curve.Median.Value);
        Assert.Equal(0, curve.At(10).Survival);
    }

    [Fact]
    public void A_time_beyond_the_follow_up_is_refused()
    {
        SurvivalCurve curve = KaplanMeier.Estimate(SurvivalTimes.RightCensored([2, 3], [true, false]));
        Assert.Contains("follow-up ends at 3", Assert.Throws<InvalidInputError>(() => curve.At(4)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void One_cluster_and_a_level_of_one_are_refused()
    {
        SurvivalTimes times = SurvivalTimes.RightCensored([2, 3], [true, false]);
        Assert.Contains("one cluster", Assert.Throws<TooFewDataError>(() => KaplanMeier.Estimate(times, Clusters.From(["a", "a"]))).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => KaplanMeier.Estimate(times, options: new() { Level = 1 }));
    }
}
