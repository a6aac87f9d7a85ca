using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class HeteroskedasticityRobustCovarianceTests
{
    [Fact]
    public void Public_schools_have_the_standard_errors_of_Cribari_Neto_2004()
    {
        // Printed digits recalled from Zeileis 2004, not re-read; the full digits come from sandwich 3.0.2.
        ReferenceCase reference = ReferenceCase.Read("Linear/public_schools_hc");
        double[] income = reference.Column("Income");
        double[] y = reference.Column("Expenditure");
        int[] complete = [.. Enumerable.Range(0, y.Length).Where(i => !double.IsNaN(y[i]) && !double.IsNaN(income[i]))];
        double[] i1 = [.. complete.Select(i => income[i] / 10000)];
        WorkingLeastSquares fit = WorkingFits.Linear(
            DesignMatrix.WithIntercept(("i", i1), ("i2", [.. i1.Select(v => v * v)])), [.. complete.Select(i => y[i])], []);
        string[] terms = ["(Intercept)", "i", "I(i^2)"];
        foreach (HeteroskedasticityVariance variance in Enum.GetValues<HeteroskedasticityVariance>())
        {
            Coefficients robust = HeteroskedasticityRobustCovariance.Estimate(fit, variance);
            for (int k = 0; k < 3; k++)
                Close.Relative(reference.Number($"cases/hc/se/{variance}/{terms[k]}"), robust.StandardError(k), 1e-8, $"{variance} {terms[k]}");
        }
        Close.Relative(reference.Number("cases/hc/leverage_max"), fit.Leverage().Max(), 1e-10, "leverage");
    }

    [Theory]
    [InlineData("ols")]
    [InlineData("logit")]
    public void Standard_errors_are_those_of_the_reference_library(string id)
    {
        ReferenceCase reference = ReferenceCase.Read("Linear/cluster_robust");
        DesignMatrix x = DesignMatrix.WithIntercept(("x", reference.Column("x")), ("z", reference.Column("z")), ("t", reference.Column("t")));
        WorkingLeastSquares fit = id == "ols"
            ? WorkingFits.Linear(x, reference.Column("y"), [])
            : WorkingFits.Logistic(x, reference.Column("b"), [.. Enumerable.Range(0, 4).Select(k => reference.Number($"cases/logit/coef/{k}"))]);
        double[] leverage = fit.Leverage();
        for (int i = 0; i < leverage.Length; i++)
            Close.Relative(reference.Number($"cases/{id}/leverage/{i}"), leverage[i], 1e-8, "leverage");
        foreach (HeteroskedasticityVariance variance in Enum.GetValues<HeteroskedasticityVariance>())
        {
            Coefficients robust = HeteroskedasticityRobustCovariance.Estimate(fit, variance);
            for (int k = 0; k < 4; k++)
                Close.Relative(reference.Number($"cases/{id}/hc/{variance}/{k}"), robust.StandardError(k), 1e-8, $"{variance} {k}");
        }
    }

    [Fact]
    public void A_row_of_leverage_one_adds_nothing()
    {
        LinearRegressionResult with = LinearRegression.Fit(
            DesignMatrix.WithIntercept(("a", [1, 2, 3, 4, 5]), ("own", [0, 0, 0, 1, 0])), [1, 3, 2, 9, 5]);
        LinearRegressionResult without = LinearRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2, 3, 5])), [1, 3, 2, 5]);
        foreach (HeteroskedasticityVariance variance in new[] { HeteroskedasticityVariance.HC2, HeteroskedasticityVariance.HC3 })
            Close.Relative(without.Robust(variance).StandardError(1), with.Robust(variance).StandardError(1), 1e-12);
    }
}
