using RotationStudy.Statistics.Curves;

namespace RotationStudy.Statistics.Tests.Curves;

public class MultipleCorrelationTests
{
    [Fact]
    public void Two_trials_of_two_points_by_hand()
    {
        // Trials (0, 4) and (1, 5): about the mean curve 4 * 0.25 = 1, over 2; about 2.5: 6.25 + 2.25 + 2.25 + 6.25 = 17, over 3.
        MultipleCorrelationResult found = MultipleCorrelation.Estimate(Set([0, 4], [1, 5]), [0, 0]);
        Close.Relative(Math.Sqrt(1 - (0.5 / (17.0 / 3))), found.Values[0]!.Value, 1e-14);
        Assert.Equal(found.Values[0], found.Median);
    }

    [Fact]
    public void Identical_trials_give_one_and_flat_noisy_ones_no_value()
    {
        MultipleCorrelationResult found = MultipleCorrelation.Estimate(Set([0, 4], [0, 4], [0, 0], [1, 1]), [0, 0, 1, 1]);
        Assert.Equal(1, found.Values[0]);
        Assert.Null(found.Values[1]);
        Assert.Equal(1, found.Undefined);
    }

    [Fact]
    public void Subjects_without_two_complete_trials_are_counted()
    {
        CurveSet curves = CurveSet.From([0, 1], [[0.0, 4.0], [0.0, 4.1], [1.0, null], [1.0, 2.0]], Clusters.EachRow(4));
        MultipleCorrelationResult found = MultipleCorrelation.Estimate(curves, [0, 0, 1, 1]);
        Assert.Equal(1, found.Incomplete);
        Assert.Contains("no subject", Assert.Throws<TooFewDataError>(() => MultipleCorrelation.Estimate(curves, [0, 1, 2, 3])).Message, StringComparison.Ordinal);
    }

    private static CurveSet Set(params double[][] rows)
        => CurveSet.From([0, 10], [.. rows.Select(r => (IReadOnlyList<double?>)[.. r.Select(v => (double?)v)])], Clusters.EachRow(rows.Length));
}
