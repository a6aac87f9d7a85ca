using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class GrayTestTests
{
    [Fact]
    public void Melanoma_deaths_agree_with_the_reference()
    {
        string[] sex = CompetingDelayed.Melanoma.Text("sex");
        for (int cause = 1; cause <= 2; cause++)
        {
            TestResult found = GrayTest.Test(CompetingDelayed.MelanomaTimes, cause, sex);
            Close.Relative(CompetingDelayed.Melanoma.Number($"cases/gray_test/chisq/{cause - 1}"), found.Statistic, 1e-8);
        }
    }

    [Fact]
    public void With_one_cause_the_robust_test_is_the_robust_log_rank_test()
    {
        CompetingTimes one = CompetingTimes.CountingProcess(
            CompetingDelayed.Delayed.AnyCause.Entry.ToArray(),
            CompetingDelayed.Delayed.AnyCause.Exit.ToArray(),
            [.. CompetingDelayed.Causes.Select(c => c > 0 ? 1 : 0)]);
        TestResult logRank = LogRank.Test(one.AnyCause, CompetingDelayed.Arm, CompetingDelayed.Clusters).Test;
        Close.Relative(logRank.Statistic, GrayTest.Test(one, 1, CompetingDelayed.Arm, CompetingDelayed.Clusters).Statistic, 1e-10);
    }

    [Fact]
    public void Every_row_twice_in_its_cluster_leaves_the_robust_test_unchanged()
    {
        int n = CompetingDelayed.Delayed.Rows;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        TestResult once = GrayTest.Test(CompetingDelayed.Delayed, 1, CompetingDelayed.Arm, CompetingDelayed.Clusters);
        TestResult doubled = GrayTest.Test(CompetingDelayed.Delayed.SelectRows(twice), 1, [.. twice.Select(i => CompetingDelayed.Arm[i])], CompetingDelayed.Clusters.SelectRows(twice));
        Close.Relative(once.Statistic, doubled.Statistic, 1e-10);
    }

    [Fact]
    public void Relabelling_groups_changes_nothing()
    {
        string[] swapped = [.. CompetingDelayed.Arm.Select(a => a == "p" ? "q" : "p")];
        TestResult a = GrayTest.Test(CompetingDelayed.Delayed, 1, CompetingDelayed.Arm);
        TestResult b = GrayTest.Test(CompetingDelayed.Delayed, 1, swapped);
        Close.Relative(a.Statistic, b.Statistic, 1e-12);
        Assert.Equal(1, a.DegreesOfFreedom);
    }

    [Fact]
    public void What_cannot_be_compared_is_refused()
    {
        CompetingTimes times = CompetingTimes.RightCensored([1, 2, 3], [1, 2, 0]);
        Assert.Contains("no row ends with cause 3", Assert.Throws<TooFewDataError>(() => GrayTest.Test(times, 3, ["a", "b", "a"])).Message, StringComparison.Ordinal);
        Assert.Contains("fewer than two groups", Assert.Throws<TooFewDataError>(() => GrayTest.Test(times, 1, ["a", "a", "a"])).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => GrayTest.Test(times, 1, ["a", "b", "a"], rho: -1));
    }
}
