using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class ModifiedPoissonRegressionTests
{
    [Fact]
    public void Two_groups_give_the_log_risk_ratio_and_its_binomial_standard_error()
    {
        // In a saturated model the row sandwich is the binomial variance exactly.
        double[] y = [.. Enumerable.Repeat(1.0, 6), .. Enumerable.Repeat(0.0, 24), .. Enumerable.Repeat(1.0, 12), .. Enumerable.Repeat(0.0, 28)];
        double[] group = [.. Enumerable.Repeat(0.0, 30), .. Enumerable.Repeat(1.0, 40)];
        GeneralizedLinearFit fit = ModifiedPoissonRegression.Fit(DesignMatrix.WithIntercept(("group", group)), y, options: new() { Variance = ClusterVariance.CR0 });
        Close.Relative(Math.Log(12.0 / 40 / (6.0 / 30)), fit.Coefficients.Values[1], 1e-9);
        Close.Relative(Math.Sqrt((1.0 / 12) - (1.0 / 40) + (1.0 / 6) - (1.0 / 30)), fit.Coefficients.StandardError(1), 1e-9);
    }

    [Fact]
    public void Low_birth_weight_agrees_with_the_reference_library()
    {
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("smoke", "lwt");
        JsonElement expected = ReferenceCase.Read("Binary/birthwt").Element("cases/modified_poisson");
        GeneralizedLinearFit fit = ModifiedPoissonRegression.Fit(x, low, options: new() { Variance = ClusterVariance.CR0 });
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_HC0"), fit.Coefficients, 1e-8);
        Assert.Null(fit.ClusterCount);
    }

    [Fact]
    public void Risks_above_one_are_said()
    {
        double[] dose = [1, 2, 3, 4, 5, 6, 7, 8];
        GeneralizedLinearFit fit = ModifiedPoissonRegression.Fit(DesignMatrix.WithIntercept(("dose", dose)), [0, 0, 1, 0, 1, 1, 1, 1]);
        Assert.Contains(fit.Warnings, w => w.Contains("fitted risks lie above 1", StringComparison.Ordinal));
    }
}
