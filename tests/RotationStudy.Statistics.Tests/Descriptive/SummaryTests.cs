using RotationStudy.Statistics.Descriptive;

namespace RotationStudy.Statistics.Tests.Descriptive;

public class SummaryTests
{
    [Fact]
    public void Four_values_by_hand()
    {
        Summary found = Summary.Of([4, 1, 3, 2]);
        Assert.Equal((4, 2.5, 1, 1.75, 2.5, 3.25, 4), (found.Count, found.Mean, found.Minimum, found.LowerQuartile, found.Median, found.UpperQuartile, found.Maximum));
        Close.Relative(Math.Sqrt(5.0 / 3), found.StandardDeviation, 1e-15);
        Close.Relative(Math.Sqrt(5.0 / 12), found.StandardErrorOfMean, 1e-15);
        Assert.Equal(1.5, found.InterquartileRange);
    }

    [Fact]
    public void A_large_common_part_costs_no_digits()
    {
        // The pattern of NIST StRD NumAcc4: 10000000.2 once, then 10000000.1 and 10000000.3 in turn; certified standard deviation 0.1 (recalled, and evident).
        double[] values = [10000000.2, .. Enumerable.Range(0, 1000).Select(i => i % 2 == 0 ? 10000000.1 : 10000000.3)];
        Close.Relative(0.1, Summary.Of(values).StandardDeviation, 1e-7);
        Close.Relative(10000000.2, Summary.Of(values).Mean, 1e-15);
    }

    [Fact]
    public void A_single_value_has_no_standard_deviation_and_no_value_no_summary()
    {
        Assert.True(double.IsNaN(Summary.Of([3]).StandardDeviation));
        Assert.Throws<TooFewDataError>(() => Summary.Of([]));
        Assert.Throws<InvalidInputError>(() => Summary.Of([1, double.PositiveInfinity]));
    }
}
