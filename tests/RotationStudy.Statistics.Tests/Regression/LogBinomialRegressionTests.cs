using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class LogBinomialRegressionTests
{
    [Fact]
    public void Two_groups_give_the_log_risk_ratio_in_closed_form()
    {
        double[] y = [.. Enumerable.Repeat(1.0, 6), .. Enumerable.Repeat(0.0, 24), .. Enumerable.Repeat(1.0, 12), .. Enumerable.Repeat(0.0, 28)];
        double[] group = [.. Enumerable.Repeat(0.0, 30), .. Enumerable.Repeat(1.0, 40)];
        GeneralizedLinearFit fit = LogBinomialRegression.Fit(DesignMatrix.WithIntercept(("group", group)), y);
        Close.Relative(Math.Log(12.0 / 40 / (6.0 / 30)), fit.Coefficients.Values[1], 1e-9);
        Close.Relative(Math.Sqrt((1.0 / 12) - (1.0 / 40) + (1.0 / 6) - (1.0 / 30)), fit.Coefficients.StandardError(1), 1e-9);
    }

    [Fact]
    public void Low_birth_weight_agrees_with_the_reference_library()
    {
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("smoke", "ht");
        JsonElement expected = ReferenceCase.Read("Binary/risk_ratio").Element("cases/log_binomial");
        GeneralizedLinearFit fit = LogBinomialRegression.Fit(x, low);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_model"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-12);
        Assert.All(fit.FittedMeans, m => Assert.InRange(m, 0, 1));
    }

    [Fact]
    public void A_maximum_on_the_edge_is_refused_and_another_way_is_named()
    {
        double[] dose = [1, 2, 3, 4, 5, 6, 7, 8];
        NotConvergedError error = Assert.Throws<NotConvergedError>(() => LogBinomialRegression.Fit(DesignMatrix.WithIntercept(("dose", dose)), [0, 0, 1, 0, 1, 1, 1, 1]));
        Assert.Contains("modified Poisson", error.Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => LogBinomialRegression.Fit(DesignMatrix.FromColumns(("dose", dose)), [0, 0, 1, 0, 1, 1, 1, 1]));
    }
}
