using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class SurvivalTimesTests
{
    [Fact]
    public void Right_censored_rows_enter_at_zero()
    {
        SurvivalTimes times = SurvivalTimes.RightCensored([3, 5], [true, false]);
        Assert.Equal([0, 0], times.Entry.ToArray());
        Assert.Equal(1, times.EventCount);
    }

    [Theory]
    [InlineData(0.0, 0.0)]
    [InlineData(4.0, 4.0)]
    [InlineData(5.0, 2.0)]
    public void An_interval_without_length_is_refused_with_its_row(double entry, double exit)
    {
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => SurvivalTimes.CountingProcess([0, entry], [1, exit], [true, true]));
        Assert.Equal(1, error.Row);
        Assert.Contains("interval without length", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Values_that_are_not_numbers_are_refused()
    {
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => SurvivalTimes.RightCensored([1, double.NaN], [true, true]));
        Assert.Equal(1, error.Row);
        Assert.Throws<InvalidInputError>(() => SurvivalTimes.RightCensored([1, double.PositiveInfinity], [true, true]));
    }

    [Fact]
    public void No_rows_and_unequal_lengths_are_refused()
    {
        Assert.Contains("no rows", Assert.Throws<InvalidInputError>(() => SurvivalTimes.RightCensored([], [])).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => SurvivalTimes.RightCensored([1, 2], [true]));
    }

    [Fact]
    public void Selected_rows_keep_their_follow_up()
    {
        SurvivalTimes chosen = SurvivalTimes.CountingProcess([0, 1, 2], [2, 3, 4], [true, false, true]).SelectRows([2, 0, 2]);
        Assert.Equal([4, 2, 4], chosen.Exit.ToArray());
        Assert.Equal(3, chosen.EventCount);
    }
}
