using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class ContrastsTests
{
    private static readonly Coefficients Fit = LinearRegressionTests.WeightedFit().ModelBased;

    [Fact]
    public void One_contrast_is_the_square_of_estimate_over_standard_error()
    {
        Estimate age = Fit.Estimate("age");
        Close.Relative(age.Statistic * age.Statistic, Contrasts.Of(Fit, "age").WaldStatistic(Fit), 1e-12);
    }

    [Fact]
    public void Any_basis_of_the_same_hypotheses_gives_the_same_statistic()
        => Close.Relative(
            Contrasts.Of(Fit, "b", "c").WaldStatistic(Fit),
            Contrasts.FromRows([0, 0, 0, 1, 1], [0, 0, 0, 2, -3]).WaldStatistic(Fit),
            1e-10);

    [Fact]
    public void Contrasts_that_depend_on_one_another_are_refused()
        => Assert.Throws<RankDeficientError>(() => Contrasts.FromRows([0, 1, 0, 0, 0], [0, 2, 0, 0, 0]).WaldStatistic(Fit));

    [Fact]
    public void No_contrast_rows_of_unequal_length_and_an_unknown_name_are_refused()
    {
        Assert.Throws<InvalidInputError>(() => Contrasts.FromRows());
        Assert.Throws<InvalidInputError>(() => Contrasts.FromRows([1.0, 0], [1.0]));
        Assert.Throws<InvalidInputError>(() => Contrasts.Of(Fit, "height"));
        Assert.Throws<InvalidInputError>(() => Contrasts.FromRows([1.0, 0]).WaldStatistic(Fit));
    }

    [Fact]
    public void Too_few_clusters_for_the_contrasts_are_refused()
    {
        LinearRegressionResult fit = LinearRegressionTests.WeightedFit();
        Clusters halves = Clusters.From([.. Enumerable.Range(0, 40).Select(i => i / 14)]);
        Assert.ThrowsAny<StatisticsError>(() => fit.FTest(Contrasts.Of(fit.ModelBased, "age", "mass", "b", "c"), halves));
    }
}
