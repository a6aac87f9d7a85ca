using RotationStudy.Statistics.Curves;

namespace RotationStudy.Statistics.Tests.Curves;

public class CurveSummaryTests
{
    private static readonly double[] Arc = [0, 10, 20, 40];
    private static readonly double?[] Curve = [6, 2, 4, 1];

    [Theory]
    // Trapezoids 40 + 30 + 50 over 40; largest 6; span 5; slope over 0 to 20 is (4 - 6) / 20.
    [InlineData(CurveFeature.MeanHeight, 0, 40, 3)]
    [InlineData(CurveFeature.Largest, 0, 40, 6)]
    [InlineData(CurveFeature.Largest, 10, 40, 4)]
    [InlineData(CurveFeature.Span, 0, 40, 5)]
    [InlineData(CurveFeature.Slope, 0, 20, -0.1)]
    [InlineData(CurveFeature.MeanHeight, 0, 0, 6)]
    public void Summaries_are_those_by_hand(CurveFeature feature, double from, double to, double expected)
        => Close.Relative(expected, CurveSummary.Of(feature, Arc, Curve, from, to)!.Value, 1e-14);

    [Fact]
    public void A_gap_in_the_arc_leaves_no_summary_and_one_outside_does_not_matter()
    {
        double?[] gap = [6, null, 4, 1];
        Assert.Null(CurveSummary.Of(CurveFeature.Largest, Arc, gap, 0, 40));
        Assert.Equal(4, CurveSummary.Of(CurveFeature.Largest, Arc, gap, 20, 40));
    }

    [Fact]
    public void An_arc_without_enough_points_is_refused()
    {
        Assert.Contains("0 points", Assert.Throws<TooFewDataError>(() => CurveSummary.Of(CurveFeature.Largest, Arc, Curve, 41, 50)).Message, StringComparison.Ordinal);
        Assert.Contains("1 points", Assert.Throws<TooFewDataError>(() => CurveSummary.Of(CurveFeature.Slope, Arc, Curve, 5, 15)).Message, StringComparison.Ordinal);
    }
}
