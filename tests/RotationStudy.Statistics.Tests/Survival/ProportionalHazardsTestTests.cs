using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class ProportionalHazardsTestTests
{
    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;

    [Theory]
    [InlineData("cox_efron", TimeTransform.KaplanMeier, "zph_km")]
    [InlineData("cox_efron", TimeTransform.Identity, "zph_identity")]
    [InlineData("cox_efron", TimeTransform.Log, "zph_log")]
    [InlineData("cox_efron", TimeTransform.Rank, "zph_rank")]
    [InlineData("cox_breslow", TimeTransform.KaplanMeier, "zph_km")]
    [InlineData("cox_efron_strata_cluster", TimeTransform.KaplanMeier, "zph_km")]
    [InlineData("cox_efron_strata_cluster", TimeTransform.Identity, "zph_identity")]
    public void Delayed_entry_agrees_with_the_reference(string name, TimeTransform transform, string table)
    {
        TiesMethod ties = name == "cox_breslow" ? TiesMethod.Breslow : TiesMethod.Efron;
        CoxFit fit = CoxRegression.Fit(Data.Delayed, Data.X, strata: name.Contains("strata", StringComparison.Ordinal) ? Data.Sites : null, options: new() { Ties = ties });
        ProportionalHazardsResult found = ProportionalHazardsTest.Test(fit, transform);
        for (int j = 0; j < 2; j++)
            Close.Relative(Data.Case.Number($"cases/{name}/{table}/{j}/0"), found.ByColumn[j].Test.Statistic, 1e-8);
        Close.Relative(Data.Case.Number($"cases/{name}/{table}/2/0"), found.Global.Statistic, 1e-8);
        Close.Relative(Data.Case.Number($"cases/{name}/{table}/2/2"), found.Global.PValue, 1e-8);
    }

    [Fact]
    public void Veteran_data_agree_with_the_reference()
    {
        ReferenceCase veteran = ReferenceCase.Read("Survival/veteran");
        SurvivalTimes times = SurvivalTimes.RightCensored(veteran.Column("time"), [.. veteran.Column("status").Select(s => s == 1)]);
        (string, IReadOnlyList<double>) Is(string type) => (type, [.. veteran.Text("celltype").Select(c => c == type ? 1.0 : 0.0)]);
        (string, IReadOnlyList<double>) Named(string name) => (name, veteran.Column(name));
        CoxFit fit = CoxRegression.Fit(times, DesignMatrix.FromColumns(Named("trt"), Is("smallcell"), Is("adeno"), Is("large"), Named("karno"), Named("diagtime"), Named("age"), Named("prior")));
        ProportionalHazardsResult km = ProportionalHazardsTest.Test(fit);
        ProportionalHazardsResult rank = ProportionalHazardsTest.Test(fit, TimeTransform.Rank);
        int[] single = [0, 2, 3, 4, 5];
        int[] column = [0, 4, 5, 6, 7];
        for (int i = 0; i < single.Length; i++)
        {
            Close.Relative(veteran.Number($"cases/zph/chisq_km/{single[i]}"), km.ByColumn[column[i]].Test.Statistic, 1e-7);
            Close.Relative(veteran.Number($"cases/zph/chisq_rank/{single[i]}"), rank.ByColumn[column[i]].Test.Statistic, 1e-7);
        }
        Close.Relative(veteran.Number("cases/zph/chisq_km/6"), km.Global.Statistic, 1e-8);
        Close.Relative(veteran.Number("cases/zph/p_km/6"), km.Global.PValue, 1e-8);
    }

    [Fact]
    public void Every_row_twice_in_its_cluster_leaves_the_robust_test_unchanged()
    {
        int n = Data.Delayed.Rows;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        CoxOptions breslow = new() { Ties = TiesMethod.Breslow };
        CoxFit once = CoxRegression.Fit(Data.Delayed, Data.X, Data.Clusters, options: breslow);
        CoxFit doubled = CoxRegression.Fit(Data.Delayed.SelectRows(twice), Data.X.SelectRows(twice), Data.Clusters.SelectRows(twice), options: breslow);
        ProportionalHazardsResult a = ProportionalHazardsTest.Test(once, TimeTransform.Log);
        ProportionalHazardsResult b = ProportionalHazardsTest.Test(doubled, TimeTransform.Log);
        Close.Relative(a.Global.Statistic, b.Global.Statistic, 1e-8);
        Assert.Equal("cluster-robust", a.VarianceMethod);
    }

    [Fact]
    public void Events_at_one_time_only_and_logs_of_negative_times_are_refused()
    {
        DesignMatrix x = DesignMatrix.FromColumns(("x", [0.2, 1, 0.5, 0.4]));
        CoxFit tied = CoxRegression.Fit(SurvivalTimes.RightCensored([2, 2, 2, 3], [true, true, false, false]), x);
        Assert.Contains("one time", Assert.Throws<TooFewDataError>(() => ProportionalHazardsTest.Test(tied)).Message, StringComparison.Ordinal);
        CoxFit early = CoxRegression.Fit(SurvivalTimes.CountingProcess([-5, -5, -5, -5], [-2, -1, 2, 3], [true, true, true, false]), x);
        Assert.Contains("no log", Assert.Throws<InvalidInputError>(() => ProportionalHazardsTest.Test(early, TimeTransform.Log)).Message, StringComparison.Ordinal);
    }
}
