using RotationStudy.Statistics.GroupComparison;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class MeanDifferenceTests
{
    [Fact]
    public void Two_and_three_values_by_hand()
    {
        // Means 2 and 5, variances 2 and 1, standard error root(1 + 1/3), degrees of freedom (4/3)^2 / (1 + 1/18) = 32/19.
        MeanDifference found = MeanDifference.Welch([1, 3], [4, 5, 6]);
        Close.Relative(-3, found.Difference.Value, 1e-14);
        Close.Relative(Math.Sqrt(4.0 / 3), found.Difference.StandardError, 1e-14);
        Close.Relative(32.0 / 19, found.Test.DegreesOfFreedom, 1e-14);
    }

    [Fact]
    public void Sleep_of_Student_1908_by_Welch_and_by_pairs()
    {
        foreach ((string id, MeanDifference found) in new[]
        {
            ("sleep_welch", MeanDifference.Welch(Classics.SleepFirst, Classics.SleepSecond)),
            ("sleep_paired", MeanDifference.Paired(Classics.SleepFirst, Classics.SleepSecond)),
        })
        {
            Close.Relative(Classics.Reference.Number($"{id}/statistic"), found.Test.Statistic, 1e-10, id);
            Close.Relative(Classics.Reference.Number($"{id}/df"), found.Test.DegreesOfFreedom, 1e-10, id);
            Close.Relative(Classics.Reference.Number($"{id}/p"), found.Test.PValue, 1e-9, id);
            Close.Relative(Classics.Reference.Number($"{id}/ci/0"), found.Difference.Interval.Lower, 1e-9, id);
            Close.Relative(Classics.Reference.Number($"{id}/ci/1"), found.Difference.Interval.Upper, 1e-9, id);
        }
        // Student printed the mean gain of 1.58 hours.
        Close.Printed(-1.58, MeanDifference.Paired(Classics.SleepFirst, Classics.SleepSecond).Difference.Value, 2);
    }

    [Fact]
    public void Exchanging_the_groups_turns_the_sign_only()
    {
        MeanDifference one = MeanDifference.Welch(Classics.Term, Classics.Early);
        MeanDifference other = MeanDifference.Welch(Classics.Early, Classics.Term);
        Assert.Equal(-one.Difference.Value, other.Difference.Value);
        Assert.Equal(one.Test.PValue, other.Test.PValue);
    }

    [Fact]
    public void Values_that_do_not_vary_single_values_and_unpaired_lists_are_refused()
    {
        Assert.Contains("do not vary", Assert.Throws<TooFewDataError>(() => MeanDifference.Welch([1, 1], [2, 2])).Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => MeanDifference.Welch([1], [2, 3]));
        Assert.Throws<TooFewDataError>(() => MeanDifference.Paired([1, 2], [2, 3]));
        Assert.Throws<InvalidInputError>(() => MeanDifference.Paired([1, 2], [2]));
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => MeanDifference.Welch([1, double.NaN], [2, 3])).Row);
    }
}
