using RotationStudy.Statistics.Descriptive;

namespace RotationStudy.Statistics.Tests.Descriptive;

public class QuantileTests
{
    [Theory]
    [InlineData(0, 1)]
    [InlineData(0.25, 1.75)]
    [InlineData(0.5, 2.5)]
    [InlineData(0.9, 7.9)]
    [InlineData(1, 10)]
    public void Type_seven_by_hand(double p, double expected) => Close.Relative(expected, Quantile.Of([10, 1, 3, 2], p), 1e-14);

    [Fact]
    public void A_share_that_hits_a_value_returns_it_exactly()
    {
        double[] values = [.. Enumerable.Range(0, 21).Select(i => Math.Pow(1.1, i))];
        Assert.Equal(values[19], Quantile.Of(values, 0.95));
        Assert.Equal(values[7], Quantile.Of(values, 0.35));
    }

    [Fact]
    public void An_empty_sample_a_missing_value_and_a_share_over_one_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => Quantile.Of([], 0.5));
        Assert.Throws<InvalidInputError>(() => Quantile.Of([1, double.NaN], 0.5));
        Assert.Throws<InvalidInputError>(() => Quantile.Of([1], 1.5));
    }
}
