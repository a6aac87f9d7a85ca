using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class LogRankTests
{
    private static readonly ReferenceCase Gehan = ReferenceCase.Read("Survival/gehan_6mp");

    private static SurvivalTimes GehanTimes => SurvivalTimes.RightCensored(Gehan.Column("time"), [.. Gehan.Column("cens").Select(c => c == 1)]);

    private static readonly SurvivalTimes Six = SurvivalTimes.RightCensored([1, 2, 3, 4, 5, 6], [true, true, false, true, true, true]);

    private static readonly string[] Arms = ["a", "b", "a", "b", "a", "b"];

    [Theory]
    [InlineData(RankWeight.LogRank, 1, 1, 1, 1, 1)]
    [InlineData(RankWeight.Gehan, 6, 5, 3, 2, 1)]
    [InlineData(RankWeight.PetoPeto, 6.0 / 7, 30.0 / 42, 90.0 / 168, 180.0 / 504, 180.0 / 1008)]
    [InlineData(RankWeight.FlemingHarrington, 1, 5.0 / 6, 4.0 / 6, 4.0 / 9, 2.0 / 9)]
    public void Six_rows_by_hand(RankWeight weight, double w1, double w2, double w4, double w5, double w6)
    {
        // Group a at risk: 3 of 6, 2 of 5, 1 of 3, 1 of 2, 0 of 1 at times 1, 2, 4, 5, 6; its events at 1 and 5.
        double[] w = [w1, w2, w4, w5, w6];
        double[] share = [3.0 / 6, 2.0 / 5, 1.0 / 3, 1.0 / 2, 0];
        double difference = (w1 * 1) + (w5 * 1);
        double variance = 0;
        for (int i = 0; i < 5; i++)
        {
            difference -= w[i] * share[i];
            variance += w[i] * w[i] * share[i] * (1 - share[i]);
        }
        LogRankResult found = LogRank.Test(Six, Arms, options: new() { Weight = weight });
        Close.Relative(difference * difference / variance, found.Test.Statistic, 1e-13);
        Close.Relative(difference, found.Observed[0] - found.Expected[0], 1e-13);
    }

    [Fact]
    public void Remission_times_of_Freireich_1963_agree_with_the_reference()
    {
        LogRankResult found = LogRank.Test(GehanTimes, Gehan.Text("treat"));
        Close.Relative(Gehan.Number("cases/logrank/chisq"), found.Test.Statistic, 1e-10);
        int treated = found.Groups.ToList().IndexOf("6-MP");
        Close.Relative(Gehan.Number("cases/logrank/exp/0"), found.Expected[treated], 1e-12);
        Assert.Equal(9, found.Observed[treated]);
        Close.Printed(16.79, found.Test.Statistic, 2, "recalled, not re-read");
        LogRankResult early = LogRank.Test(GehanTimes, Gehan.Text("treat"), options: new() { Weight = RankWeight.FlemingHarrington });
        Close.Relative(Gehan.Number("cases/logrank/peto_rho1_chisq"), early.Test.Statistic, 1e-10);
    }

    [Fact]
    public void Lung_and_ovarian_data_agree_with_the_reference()
    {
        ReferenceCase lung = ReferenceCase.Read("Survival/lung");
        SurvivalTimes times = SurvivalTimes.RightCensored(lung.Column("time"), [.. lung.Column("status").Select(s => s == 2)]);
        Close.Relative(lung.Number("cases/logrank_sex/chisq"), LogRank.Test(times, lung.Text("sex")).Test.Statistic, 1e-10);
        int[] known = [.. Enumerable.Range(0, times.Rows).Where(i => double.IsFinite(lung.Column("ph.ecog")[i]))];
        string[] sex = [.. known.Select(i => lung.Text("sex")[i])];
        string[] ecog = [.. known.Select(i => lung.Text("ph.ecog")[i])];
        LogRankResult stratified = LogRank.Test(times.SelectRows(known), sex, strata: Clusters.From(ecog));
        Close.Relative(lung.Number("cases/logrank_sex/strat_chisq_by_ecog"), stratified.Test.Statistic, 1e-10);
        ReferenceCase ovarian = ReferenceCase.Read("Survival/ovarian");
        SurvivalTimes follow = SurvivalTimes.RightCensored(ovarian.Column("futime"), [.. ovarian.Column("fustat").Select(s => s == 1)]);
        LogRankResult arms = LogRank.Test(follow, ovarian.Text("rx"));
        Close.Relative(ovarian.Number("cases/logrank_rx/chisq"), arms.Test.Statistic, 1e-10);
        Close.Printed(0.303, arms.Test.PValue, 3, "recalled, not re-read");
    }

    [Fact]
    public void Three_arms_agree_with_the_reference_with_and_without_strata_and_weights()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        LogRankOptions early = new() { Weight = RankWeight.FlemingHarrington };
        Close.Relative(data.Case.Number("cases/logrank_arm/chisq"), LogRank.Test(data.FromZero, data.Arm).Test.Statistic, 1e-10);
        Close.Relative(data.Case.Number("cases/logrank_arm_strata/chisq"), LogRank.Test(data.FromZero, data.Arm, strata: data.Sites).Test.Statistic, 1e-10);
        Close.Relative(data.Case.Number("cases/fh_rho1_arm/chisq"), LogRank.Test(data.FromZero, data.Arm, options: early).Test.Statistic, 1e-10);
        LogRankResult half = LogRank.Test(data.FromZero, data.Arm, strata: data.Sites, options: early with { Rho = 0.5 });
        Close.Relative(data.Case.Number("cases/fh_rho_half_arm_strata/chisq"), half.Test.Statistic, 1e-10);
        Assert.Equal(2, half.Test.DegreesOfFreedom);
    }

    [Fact]
    public void Without_ties_the_test_is_the_score_test_of_Cox_regression()
    {
        DesignMatrix x = DesignMatrix.FromColumns(("arm", [.. Arms.Select(a => a == "b" ? 1.0 : 0.0)]));
        Close.Relative(CoxRegression.Fit(Six, x).ScoreTest.Statistic, LogRank.Test(Six, Arms).Test.Statistic, 1e-12);
    }

    [Fact]
    public void The_cluster_robust_variance_is_the_sum_of_squared_score_residuals_at_zero()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        DesignMatrix x = DesignMatrix.FromColumns(("x2", data.Case.Column("x2")));
        RiskSets sets = RiskSets.Build(data.Delayed, data.Sites);
        CoxPartialLikelihood likelihood = new(sets, new CoxColumns(sets, x, [], []), TiesMethod.Breslow);
        likelihood.Evaluate([0]);
        double[] sums = CoxClusterCovariance.SumByCluster(CoxScoreResiduals.Weighted(likelihood), 1, sets.Row, data.Clusters);
        double expected = likelihood.Score[0] * likelihood.Score[0] / sums.Sum(u => u * u);
        LogRankResult found = LogRank.Test(data.Delayed, data.Case.Text("x2"), data.Clusters, data.Sites);
        Close.Relative(expected, found.Test.Statistic, 1e-10);
    }

    [Fact]
    public void Every_row_twice_in_its_cluster_leaves_the_robust_test_unchanged()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        int n = data.Delayed.Rows;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        LogRankResult once = LogRank.Test(data.Delayed, data.Arm, data.Clusters);
        LogRankResult doubled = LogRank.Test(data.Delayed.SelectRows(twice), [.. twice.Select(i => data.Arm[i])], data.Clusters.SelectRows(twice));
        Close.Relative(once.Test.Statistic, doubled.Test.Statistic, 1e-10);
    }

    [Fact]
    public void Relabelling_groups_and_shuffling_rows_change_nothing()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        int[] order = SplitFollowUp.Shuffled(data.Delayed.Rows, 3);
        LogRankResult a = LogRank.Test(data.Delayed, data.Arm, data.Clusters);
        LogRankResult b = LogRank.Test(data.Delayed.SelectRows(order), [.. order.Select(i => data.Arm[i])], data.Clusters.SelectRows(order));
        Close.Relative(a.Test.Statistic, b.Test.Statistic, 1e-10);
    }

    [Fact]
    public void What_cannot_be_compared_is_refused()
    {
        SurvivalTimes none = SurvivalTimes.RightCensored([1, 2], [false, false]);
        Assert.Contains("no row ends with an event", Assert.Throws<TooFewDataError>(() => LogRank.Test(none, ["a", "b"])).Message, StringComparison.Ordinal);
        SurvivalTimes two = SurvivalTimes.RightCensored([1, 2], [true, true]);
        Assert.Contains("fewer than two groups", Assert.Throws<TooFewDataError>(() => LogRank.Test(two, ["a", "a"])).Message, StringComparison.Ordinal);
        SurvivalTimes apart = SurvivalTimes.CountingProcess([0, 0, 5, 5], [1, 2, 6, 7], [true, true, true, true]);
        Assert.Contains("never mixed", Assert.Throws<TooFewDataError>(() => LogRank.Test(apart, ["a", "a", "b", "b"])).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => LogRank.Test(two, ["a"]));
        Assert.Throws<InvalidInputError>(() => LogRank.Test(two, ["a", "b"], options: new() { Rho = -1 }));
    }
}
