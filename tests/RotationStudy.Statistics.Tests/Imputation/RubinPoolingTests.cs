using System.Text.Json;
using RotationStudy.Statistics.Imputation;

namespace RotationStudy.Statistics.Tests.Imputation;

public class RubinPoolingTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Imputation/rubin_nhanes");
    private static readonly ReferenceCase Wald = ReferenceCase.Read("Imputation/wald_d1");

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Five_imputations_pool_as_in_the_reference_library(int term)
    {
        const string Pooled = "cases/pooled_barnard_rubin/";
        PooledEstimate found = RubinPooling.Pool("x", Numbers($"cases/inputs/Q/{term}"), Numbers($"cases/inputs/U/{term}"), Case.Number("cases/inputs/dfcom"));
        Close.Relative(Case.Number($"{Pooled}estimate/{term}"), found.Estimate.Value, 1e-12);
        Close.Relative(Case.Number($"{Pooled}se/{term}"), found.Estimate.StandardError, 1e-12);
        Close.Relative(Case.Number($"{Pooled}df/{term}"), found.Estimate.DegreesOfFreedom, 1e-10);
        Close.Relative(Case.Number($"{Pooled}p/{term}"), found.Estimate.PValue, 1e-10);
        Close.Relative(Case.Number($"{Pooled}lower/{term}"), found.Estimate.Interval.Lower, 1e-9);
        Close.Relative(Case.Number($"{Pooled}upper/{term}"), found.Estimate.Interval.Upper, 1e-9);
        Close.Relative(Case.Number($"{Pooled}b/{term}"), found.BetweenVariance, 1e-11);
        Close.Relative(Case.Number($"{Pooled}riv/{term}"), found.RelativeIncrease, 1e-11);
        Close.Relative(Case.Number($"{Pooled}lambda/{term}"), found.MissingShare, 1e-11);
        Close.Relative(Case.Number($"{Pooled}fmi/{term}"), found.FractionOfMissingInformation, 1e-10);
        Close.Relative(Case.Number($"cases/rubin1987_df_large_sample/df/{term}"), RubinPooling.Pool("x", Numbers($"cases/inputs/Q/{term}"), Numbers($"cases/inputs/U/{term}")).Estimate.DegreesOfFreedom, 1e-10);
    }

    [Fact]
    public void Two_imputations_by_hand()
    {
        // Estimates 1 and 3, variances 1 and 1: mean 2, between 2, total 1 + 1.5*2 = 4, share 3/4, df (1)/(9/16).
        PooledEstimate found = RubinPooling.Pool("x", [1, 3], [1, 1]);
        Close.Relative(2, found.Estimate.StandardError, 1e-14);
        Close.Relative(0.75, found.MissingShare, 1e-14);
        Close.Relative(16.0 / 9, found.Estimate.DegreesOfFreedom, 1e-14);
    }

    [Fact]
    public void Equal_estimates_leave_the_variance_within_and_the_observed_degrees_of_freedom()
    {
        PooledEstimate found = RubinPooling.Pool("x", [2, 2, 2], [0.5, 0.5, 0.5], 20);
        Assert.Equal(0, found.RelativeIncrease);
        Close.Relative(21.0 / 23 * 20, found.Estimate.DegreesOfFreedom, 1e-13);
        Close.Relative(Math.Sqrt(0.5), found.Estimate.StandardError, 1e-14);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void The_pooled_Wald_test_agrees_with_the_script(int index)
    {
        JsonElement test = Wald.Element("cases")[index];
        int k = test.GetProperty("k").GetInt32();
        string[] names = [.. Enumerable.Range(0, k).Select(i => $"b{i}")];
        Coefficients[] fits = [.. test.GetProperty("Q").EnumerateArray().Zip(test.GetProperty("U").EnumerateArray(), (q, u) =>
            new Coefficients(Values(q), new SymmetricMatrix(names, Values(u)), "invented"))];
        TestResult found = RubinPooling.Pool(fits, double.PositiveInfinity).WaldTest(names);
        Close.Relative(test.GetProperty("D1").GetDouble(), found.Statistic, 1e-10);
        Close.Relative(test.GetProperty("df").GetDouble(), found.DenominatorDegreesOfFreedom, 1e-10);
        Close.Relative(test.GetProperty("p").GetDouble(), found.PValue, 1e-9);
    }

    [Fact]
    public void Whole_models_pool_as_their_terms_do()
    {
        string[] names = ["a", "b"];
        Coefficients[] fits = [new([1, 2], new SymmetricMatrix(names, [1, 0.2, 0.2, 2]), "v"), new([1.5, 1], new SymmetricMatrix(names, [1.1, 0.1, 0.1, 2.2]), "v")];
        PooledCoefficients found = RubinPooling.Pool(fits, 30);
        PooledEstimate alone = RubinPooling.Pool("b", [2, 1], [2, 2.2], 30);
        Assert.Equal(alone.Estimate, found.Terms[1].Estimate);
        Close.Relative(alone.Estimate.StandardError, found.Coefficients.StandardError(1), 1e-14);
        // Covariance: within 0.15, between (0.25 * -0.5 * 2) = -0.25, total 0.15 - 1.5 * 0.25.
        Close.Relative(-0.225, found.Coefficients.Covariance[0, 1], 1e-13);
    }

    [Fact]
    public void One_imputation_and_unlike_models_are_refused()
    {
        Assert.Contains("1 imputation", Assert.Throws<TooFewDataError>(() => RubinPooling.Pool("x", [1], [1])).Message, StringComparison.Ordinal);
        Coefficients a = new([1], new SymmetricMatrix(["a"], [1]), "v");
        Coefficients b = new([1], new SymmetricMatrix(["b"], [1]), "v");
        Assert.Contains("different terms", Assert.Throws<InvalidInputError>(() => RubinPooling.Pool([a, b], 9)).Message, StringComparison.Ordinal);
    }

    private static double[] Numbers(string path) => Values(Case.Element(path));

    private static double[] Values(JsonElement list) => [.. list.EnumerateArray().Select(e => e.GetDouble())];
}
