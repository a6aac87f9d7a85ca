using RotationStudy.Statistics.GroupComparison;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.GroupComparison;

public class AnalysisOfVarianceTests
{
    [Fact]
    public void Plant_growth_is_that_of_the_reference_library()
    {
        TestResult classical = AnalysisOfVariance.Classical(Classics.Plants);
        Close.Relative(Classics.Reference.Number("plant_anova/F"), classical.Statistic, 1e-10);
        Close.Relative(Classics.Reference.Number("plant_anova/p"), classical.PValue, 1e-9);
        TestResult welch = AnalysisOfVariance.Welch(Classics.Plants);
        Close.Relative(Classics.Reference.Number("plant_welch/statistic"), welch.Statistic, 1e-10);
        Close.Relative(Classics.Reference.Number("plant_welch/df/1"), welch.DenominatorDegreesOfFreedom, 1e-10);
        Close.Relative(Classics.Reference.Number("plant_welch/p"), welch.PValue, 1e-9);
    }

    [Fact]
    public void With_two_groups_Welchs_F_is_the_square_of_Welchs_t()
    {
        TestResult f = AnalysisOfVariance.Welch([Classics.Term, Classics.Early]);
        TestResult t = MeanDifference.Welch(Classics.Term, Classics.Early).Test;
        Close.Relative(t.Statistic * t.Statistic, f.Statistic, 1e-12);
        Close.Relative(t.DegreesOfFreedom, f.DenominatorDegreesOfFreedom, 1e-12);
        Close.Relative(t.PValue, f.PValue, 1e-11);
    }

    [Fact]
    public void The_classical_test_is_the_overall_test_of_a_regression_on_indicators()
    {
        double[] y = [.. Classics.Plants.SelectMany(g => g)];
        double[] Indicator(int g) => [.. Enumerable.Range(0, 30).Select(i => i / 10 == g ? 1.0 : 0.0)];
        TestResult regression = LinearRegression.Fit(DesignMatrix.WithIntercept(("one", Indicator(1)), ("two", Indicator(2))), y).OverallTest();
        Close.Relative(regression.Statistic, AnalysisOfVariance.Classical(Classics.Plants).Statistic, 1e-11);
    }

    [Fact]
    public void A_single_group_an_empty_one_and_groups_that_do_not_vary_are_refused()
    {
        Assert.Throws<TooFewDataError>(() => AnalysisOfVariance.Classical([[1.0, 2.0]]));
        Assert.Throws<TooFewDataError>(() => AnalysisOfVariance.Classical([[1.0, 2.0], []]));
        Assert.Throws<TooFewDataError>(() => AnalysisOfVariance.Classical([[1.0, 1.0], [2.0, 2.0]]));
        Assert.Throws<TooFewDataError>(() => AnalysisOfVariance.Welch([[1.0, 2.0], [2.0, 2.0]]));
        Assert.Throws<TooFewDataError>(() => AnalysisOfVariance.Welch([[1.0, 2.0], [2.0]]));
    }
}
