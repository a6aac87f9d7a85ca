using RotationStudy.Statistics.Agreement;

namespace RotationStudy.Statistics.Tests.Agreement;

public class MethodLineTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Agreement/methods");
    private static readonly double[] X = Case.Column("x");
    private static readonly double[] Y = Case.Column("y");

    [Theory]
    [InlineData(1, "deming_1")]
    [InlineData(2.5, "deming_2.5")]
    public void Demings_line_is_the_minimum_of_the_weighted_squared_distances(double ratio, string name)
    {
        MethodLine line = DemingRegression.Fit(X, Y, ratio);
        Close.Relative(Case.Number(name + "/line/0"), line.Intercept.Value, 1e-10);
        Close.Relative(Case.Number(name + "/line/1"), line.Slope.Value, 1e-10);
        Close.Relative(Case.Number(name + "/se/0"), line.Intercept.StandardError, 1e-10);
        Close.Relative(Case.Number(name + "/se/1"), line.Slope.StandardError, 1e-10);
    }

    [Fact]
    public void Exchanging_the_methods_inverts_both_lines()
    {
        Close.Relative(1 / DemingRegression.Fit(X, Y, 2).Slope.Value, DemingRegression.Fit(Y, X, 0.5).Slope.Value, 1e-12);
        Close.Relative(1 / PassingBablok.Fit(X, Y).Slope, PassingBablok.Fit(Y, X).Slope, 5e-3);
    }

    [Fact]
    public void Passing_and_Bablok_agree_with_exact_fractions()
    {
        RankLine line = PassingBablok.Fit(X, Y);
        Close.Relative(Case.Number("passing_bablok/slope"), line.Slope, 1e-12);
        Close.Relative(Case.Number("passing_bablok/slope_ci/0"), line.SlopeInterval.Lower, 1e-12);
        Close.Relative(Case.Number("passing_bablok/slope_ci/1"), line.SlopeInterval.Upper, 1e-12);
        Close.Relative(Case.Number("passing_bablok/intercept"), line.Intercept, 1e-10);
        Close.Relative(Case.Number("passing_bablok/intercept_ci/0"), line.InterceptInterval.Lower, 1e-10);
        Close.Relative(Case.Number("passing_bablok/intercept_ci/1"), line.InterceptInterval.Upper, 1e-10);
    }

    [Fact]
    public void The_scale_free_line_follows_the_unit_of_either_method()
    {
        RankLine line = PassingBablok.Fit(X, Y, scaleFree: true);
        RankLine inTenths = PassingBablok.Fit(X, [.. Y.Select(v => 10 * v)], scaleFree: true);
        Close.Relative(10 * line.Slope, inTenths.Slope, 1e-12);
    }

    [Fact]
    public void Points_on_a_line_give_that_line()
    {
        double[] x = [1, 2, 3, 5, 8, 13];
        double[] y = [.. x.Select(v => 2 + (0.5 * v))];
        RankLine rank = PassingBablok.Fit(x, y);
        Close.Relative(0.5, rank.Slope, 1e-13);
        Close.Relative(2, rank.Intercept, 1e-12);
        MethodLine deming = DemingRegression.Fit(x, y);
        Close.Relative(0.5, deming.Slope.Value, 1e-12);
        Assert.InRange(deming.Slope.StandardError, 0, 1e-12);
    }

    [Fact]
    public void Concordance_agrees_with_the_script_and_is_one_on_the_line_of_identity()
    {
        ConcordanceEstimate found = ConcordanceCorrelation.Estimate(X, Y);
        Close.Relative(Case.Number("lin/value"), found.Value, 1e-12);
        Close.Relative(Case.Number("lin/ci/0"), found.Interval.Lower, 1e-10);
        Close.Relative(Case.Number("lin/ci/1"), found.Interval.Upper, 1e-10);
        Close.Relative(found.Value, found.Precision * found.Accuracy, 1e-13);
        Assert.Equal(1, ConcordanceCorrelation.Estimate(X, X).Value, 12);
    }

    [Fact]
    public void Concordance_falls_by_a_shift_as_by_hand()
    {
        // x 1 2 3 4, y = x + 1: variance 1.25, 2*1.25/(1.25 + 1.25 + 1) = 5/7.
        Close.Relative(5.0 / 7, ConcordanceCorrelation.Estimate([1, 2, 3, 4], [2, 3, 4, 5]).Value, 1e-13);
    }

    [Fact]
    public void Measurements_that_do_not_vary_are_refused()
    {
        Assert.Contains("do not vary together", Assert.Throws<TooFewDataError>(() => DemingRegression.Fit([1, 2, 3, 4], [5, 5, 5, 5])).Message, StringComparison.Ordinal);
        Assert.Contains("vertical", Assert.Throws<TooFewDataError>(() => PassingBablok.Fit([1, 1, 1, 1, 1], [1, 2, 3, 4, 5])).Message, StringComparison.Ordinal);
        Assert.Contains("does not vary", Assert.Throws<TooFewDataError>(() => ConcordanceCorrelation.Estimate([1, 2, 3, 4], [5, 5, 5, 5])).Message, StringComparison.Ordinal);
    }
}
