using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class RankShiftTests
{
    [Fact]
    public void Three_against_two_by_hand()
    {
        // Ranks 1, 2, 4 against 3, 5: U = 7 - 6 = 1; ways to reach 0 and 1 are 1 and 1 of 10; p = 4/10. Differences -3, -2, -1, -1... in order.
        RankShift found = RankShift.MannWhitney([1, 2, 4], [3, 5]);
        Assert.Equal(1, found.Test.Statistic);
        Close.Relative(0.4, found.Test.PValue, 1e-14);
        Close.Relative(1.0 / 6, found.Superiority, 1e-14);
        Assert.Equal(-1.5, found.Shift);
        Assert.Equal(double.NegativeInfinity, found.Interval.Lower);
    }

    [Fact]
    public void Placental_permeability_of_Hollander_and_Wolfe_1973() => Check("permeability", RankShift.MannWhitney(Classics.Term, Classics.Early));

    [Fact]
    public void Depression_scores_of_Hollander_and_Wolfe_1973() => Check("depression", RankShift.SignedRank(Classics.Before, Classics.After));

    [Fact]
    public void Ties_are_answered_by_the_corrected_normal_approximation()
    {
        double[] first = [.. Classics.Reference.Element("tied/first").EnumerateArray().Select(e => e.GetDouble())];
        double[] second = [.. Classics.Reference.Element("tied/second").EnumerateArray().Select(e => e.GetDouble())];
        RankShift found = RankShift.MannWhitney(first, second);
        Assert.False(found.Exact);
        Close.Relative(Classics.Reference.Number("tied/statistic"), found.Test.Statistic, 1e-14);
        Close.Relative(Classics.Reference.Number("tied/p"), found.Test.PValue, 1e-10);
        RankShift sleep = RankShift.SignedRank(Classics.SleepFirst, Classics.SleepSecond);
        Close.Relative(Classics.Reference.Number("sleep_signed/p"), sleep.Test.PValue, 1e-10);
        Assert.Equal(0, sleep.Test.Statistic);
    }

    [Fact]
    public void The_shift_and_its_bounds_are_order_statistics_of_all_pairs()
    {
        Random random = new(9);
        double[] x = [.. Enumerable.Range(0, 60).Select(_ => Math.Round(random.NextDouble() * 20))];
        double[] y = [.. Enumerable.Range(0, 41).Select(_ => Math.Round(random.NextDouble() * 20) - 3)];
        Array.Sort(x);
        Array.Sort(y);
        double[] differences = [.. x.SelectMany(a => y.Select(b => a - b)).Order()];
        double[] means = [.. Enumerable.Range(0, 60).SelectMany(i => Enumerable.Range(i, 60 - i).Select(j => (x[i] + x[j]) / 2)).Order()];
        for (int k = 1; k <= means.Length; k += 13)
        {
            Assert.Equal(differences[k - 1], PairOrderStatistic.Difference(x, y, k));
            Assert.Equal(means[k - 1], PairOrderStatistic.Mean(x, k));
        }
    }

    [Fact]
    public void Any_increasing_map_leaves_test_and_superiority_alone()
    {
        RankShift plain = RankShift.MannWhitney(Classics.Term, Classics.Early);
        RankShift mapped = RankShift.MannWhitney([.. Classics.Term.Select(Math.Exp)], [.. Classics.Early.Select(Math.Exp)]);
        Assert.Equal(plain.Test.PValue, mapped.Test.PValue);
        Assert.Equal(plain.Superiority, mapped.Superiority);
        Close.Relative(1 - plain.Superiority, RankShift.MannWhitney(Classics.Early, Classics.Term).Superiority, 1e-14);
    }

    [Fact]
    public void The_ways_of_the_exact_distribution_sum_to_the_number_of_choices_and_are_symmetric()
    {
        // The median of U in a group of three and four lies at 6 of 0 to 12.
        RankSumDistribution distribution = RankSumDistribution.MannWhitney(3, 4);
        Close.Relative(2.0 / 35, distribution.TwoSidedPValue(0), 1e-14);
        Assert.Equal(distribution.TwoSidedPValue(2), distribution.TwoSidedPValue(10));
        Close.Relative(1, distribution.TwoSidedPValue(6), 1e-14);
    }

    [Fact]
    public void Values_that_are_all_the_same_and_empty_groups_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => RankShift.MannWhitney([2, 2], [2, 2, 2]));
        Assert.Throws<TooFewDataError>(() => RankShift.MannWhitney([], [1]));
        Assert.Throws<TooFewDataError>(() => RankShift.SignedRank([1, 2], [1, 2]));
        Assert.Throws<InvalidInputError>(() => RankShift.SignedRank([1, 2], [1]));
    }

    private static void Check(string id, RankShift found)
    {
        Assert.True(found.Exact);
        Assert.Equal(Classics.Reference.Number($"{id}/statistic"), found.Test.Statistic);
        Close.Relative(Classics.Reference.Number($"{id}/p"), found.Test.PValue, 1e-12, id);
        Close.Relative(Classics.Reference.Number($"{id}/estimate"), found.Shift, 1e-12, id);
        Close.Relative(Classics.Reference.Number($"{id}/ci/0"), found.Interval.Lower, 1e-12, id);
        Close.Relative(Classics.Reference.Number($"{id}/ci/1"), found.Interval.Upper, 1e-12, id);
    }
}
