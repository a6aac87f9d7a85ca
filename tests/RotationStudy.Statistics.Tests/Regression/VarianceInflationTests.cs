using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class VarianceInflationTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Linear/weighted_linear");

    [Fact]
    public void Inflation_of_a_column_is_one_over_one_minus_R_squared_on_the_others()
    {
        IReadOnlyList<VarianceInflation> found = VarianceInflation.Of(LinearRegressionTests.WeightedFit().ModelBased);
        for (int j = 0; j < 4; j++)
        {
            Close.Relative(Reference.Number($"vif/{j}"), found[j].Factor, 1e-9);
            Close.Relative(Math.Sqrt(found[j].Factor), found[j].PerDimension, 1e-14);
        }
    }

    [Fact]
    public void Inflation_of_a_category_is_the_ratio_of_determinants()
    {
        VarianceInflation found = VarianceInflation.Of(LinearRegressionTests.WeightedFit().ModelBased, [["b", "c"]])[0];
        Close.Relative(Reference.Number("gvif_group"), found.Factor, 1e-9);
        Close.Relative(Math.Pow(found.Factor, 0.25), found.PerDimension, 1e-14);
    }

    [Fact]
    public void Uncorrelated_columns_inflate_nothing()
    {
        LinearRegressionResult fit = LinearRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 1, -1, -1]), ("b", [1, -1, 1, -1])), [1, 2, 3, 5]);
        Assert.All(VarianceInflation.Of(fit.ModelBased), v => Close.Relative(1, v.Factor, 1e-12));
    }

    [Fact]
    public void The_intercept_is_refused()
    {
        Coefficients fit = LinearRegressionTests.WeightedFit().ModelBased;
        Assert.Throws<InvalidInputError>(() => VarianceInflation.Of(fit, [[DesignMatrix.InterceptName]]));
    }
}
