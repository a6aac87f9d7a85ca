using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class RestrictedMeanTests
{
    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;

    [Fact]
    public void Four_rows_by_hand()
    {
        // S is 1 to 1, 3/4 to 2, 3/8 after (one censored at 1.5, one of two at 2). Area to 3: 1 + 3/4 + 3/8.
        Estimate mean = RestrictedMean.Estimate(SurvivalTimes.RightCensored([1, 1.5, 2, 4], [true, false, true, false]), 3);
        Close.Relative(1 + 0.75 + 0.375, mean.Value, 1e-14);
        double variance = (1.125 * 1.125 * 1 / (4 * 3.0)) + (0.375 * 0.375 * 1 / (2 * 1.0));
        Close.Relative(Math.Sqrt(variance), mean.StandardError, 1e-14);
    }

    [Fact]
    public void Lung_data_and_three_arms_agree_with_the_reference()
    {
        ReferenceCase lung = ReferenceCase.Read("Survival/lung");
        SurvivalTimes times = SurvivalTimes.RightCensored(lung.Column("time"), [.. lung.Column("status").Select(s => s == 2)]);
        RestrictedMeanComparison sexes = RestrictedMean.Compare(times, lung.Text("sex"), 365);
        Estimate[] bySex = [sexes.First, sexes.Second];
        for (int g = 0; g < 2; g++)
        {
            Close.Relative(lung.Number($"cases/rmst365/rmean/{g}"), bySex[g].Value, 1e-10);
            Close.Relative(lung.Number($"cases/rmst365/se/{g}"), bySex[g].StandardError, 1e-8);
        }
        Close.Relative(bySex[1].Value - bySex[0].Value, sexes.Difference.Value, 1e-12);
        Close.Relative(Math.Sqrt(Math.Pow(bySex[0].StandardError, 2) + Math.Pow(bySex[1].StandardError, 2)), sexes.Difference.StandardError, 1e-12);
        for (int g = 0; g < 3; g++)
        {
            int[] rows = [.. Enumerable.Range(0, Data.Arm.Length).Where(i => Data.Arm[i] == "pqr"[g].ToString())];
            Estimate mean = RestrictedMean.Estimate(Data.FromZero.SelectRows(rows), 10);
            Close.Relative(Data.Case.Number($"cases/rmst10_arm/rmean/{g}"), mean.Value, 1e-10);
            Close.Relative(Data.Case.Number($"cases/rmst10_arm/se/{g}"), mean.StandardError, 1e-8);
        }
    }

    [Fact]
    public void The_clustered_error_of_rows_in_both_groups_allows_for_their_dependence()
    {
        // Every cluster has the same time in both groups: the difference is zero without error.
        double[] time = [1, 1, 2, 2, 3, 3, 4, 4];
        bool[] events = [true, true, true, true, true, true, false, false];
        string[] group = ["a", "b", "a", "b", "a", "b", "a", "b"];
        RestrictedMeanComparison found = RestrictedMean.Compare(SurvivalTimes.RightCensored(time, events), group, 4, Clusters.From([1, 1, 2, 2, 3, 3, 4, 4]));
        Assert.Equal((0.0, 0.0), (found.Difference.Value, found.Difference.StandardError));
        Assert.True(found.First.StandardError > 0);
    }

    [Fact]
    public void Clusters_of_one_without_censoring_give_the_error_of_the_mean()
    {
        double[] time = [1, 2, 4, 7];
        Estimate mean = RestrictedMean.Estimate(SurvivalTimes.RightCensored(time, [true, true, true, true]), 7, Clusters.EachRow(4));
        Close.Relative(3.5, mean.Value, 1e-14);
        Close.Relative(Math.Sqrt(time.Sum(t => (t - 3.5) * (t - 3.5))) / 4, mean.StandardError, 1e-12);
    }

    [Fact]
    public void A_horizon_that_was_not_observed_is_refused()
    {
        SurvivalTimes times = SurvivalTimes.RightCensored([1, 2, 3], [true, false, false]);
        Assert.Contains("beyond the last follow-up", Assert.Throws<InvalidInputError>(() => RestrictedMean.Estimate(times, 3.5)).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => RestrictedMean.Estimate(times, 0));
        Assert.Throws<InvalidInputError>(() => RestrictedMean.Compare(times, ["a", "b", "c"], 1));
    }
}
