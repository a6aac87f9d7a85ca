using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class NegativeBinomialRegressionTests
{
    [Fact]
    public void Seizure_counts_agree_with_the_reference_library()
    {
        (DesignMatrix x, double[] y, Clusters _) = PoissonRegressionTests.Seizures();
        JsonElement expected = ReferenceCase.Read("Counts/epilepsy").Element("cases/negbin");
        NegativeBinomialFit fit = NegativeBinomialRegression.Fit(x, y);
        Coefficients fixedDispersion = new([.. fit.Regression.Coefficients.Values], fit.DispersionFixedCovariance, "dispersion fixed");
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_model"), fixedDispersion, 1e-6);
        Close.Relative(expected.GetProperty("theta").GetDouble(), fit.Theta, 1e-6);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.Regression.LogLikelihood, 1e-10);
        Close.Relative(expected.GetProperty("deviance").GetDouble(), fit.Regression.Deviance, 1e-6);
        Assert.True(fit.OverdispersionTest.PValue < 1e-70);
    }

    [Fact]
    public void The_rates_of_the_cohort_agree_with_the_reference_library()
    {
        JsonElement expected = Peers.Estimates("negbin_rate");
        DesignMatrix x = LogisticRegressionTests.Knees("av", "tfa", "lax", "age", "female");
        NegativeBinomialFit fit = NegativeBinomialRegression.Fit(x, Peers.Cohort.Knees["nd"], PoissonRegressionTests.LogYears);
        Coefficients fixedDispersion = new([.. fit.Regression.Coefficients.Values], fit.DispersionFixedCovariance, "dispersion fixed");
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_theta_fixed"), fixedDispersion, 1e-6);
        Close.Relative(expected.GetProperty("alpha").GetDouble(), fit.Alpha, 1e-6);
        Assert.True(fit.Regression.LogLikelihood >= expected.GetProperty("logLik").GetDouble() - 1e-9);
    }

    [Fact]
    public void Counts_without_overdispersion_give_the_Poisson_fit_and_say_so()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [0, 0, 0, 0, 1, 1, 1, 1]));
        double[] y = [1, 2, 1, 2, 3, 3, 4, 4];
        NegativeBinomialFit fit = NegativeBinomialRegression.Fit(x, y);
        Assert.True(fit.IsOnBoundary);
        Assert.Equal(0, fit.Alpha);
        Assert.Equal(double.PositiveInfinity, fit.Theta);
        Assert.Equal(PoissonRegression.Fit(x, y).Coefficients.Values, fit.Regression.Coefficients.Values);
        Assert.Contains(fit.Regression.Warnings, w => w.Contains("no over-dispersion", StringComparison.Ordinal));
        Assert.Equal(1, fit.OverdispersionTest.PValue);
    }

    [Fact]
    public void The_tests_of_no_effect_need_an_intercept()
    {
        (DesignMatrix x, double[] y, Clusters _) = PoissonRegressionTests.Seizures();
        NegativeBinomialFit whole = NegativeBinomialRegression.Fit(x, y);
        NegativeBinomialFit alone = NegativeBinomialRegression.Fit(x.SelectColumns([0]), y);
        Close.Relative(alone.Regression.LogLikelihood, whole.Regression.NullLogLikelihood, 1e-12);
        NegativeBinomialFit without = NegativeBinomialRegression.Fit(DesignMatrix.FromColumns(("one", Enumerable.Repeat(1.0, x.Rows).ToArray()), ("lbase", x.Column(1).ToArray())), y);
        Assert.Throws<InvalidInputError>(() => without.Regression.NullLogLikelihood);
    }

    [Fact]
    public void Clusters_give_the_sandwich_with_the_dispersion_held()
    {
        (DesignMatrix x, double[] y, Clusters subjects) = PoissonRegressionTests.Seizures();
        NegativeBinomialFit fit = NegativeBinomialRegression.Fit(x, y, clusters: subjects);
        Assert.Equal(59, fit.Regression.ClusterCount);
        Assert.Contains("CR2", fit.Regression.Coefficients.VarianceMethod, StringComparison.Ordinal);
        for (int j = 0; j < x.Columns; j++)
            Assert.InRange(fit.Regression.Coefficients.StandardError(j) / Math.Sqrt(fit.DispersionFixedCovariance[j, j]), 0.5, 2.5);
    }

    [Fact]
    public void The_profile_is_flat_at_the_dispersion_found()
    {
        (DesignMatrix x, double[] y, Clusters _) = PoissonRegressionTests.Seizures();
        NegativeBinomialFit fit = NegativeBinomialRegression.Fit(x, y);
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Count, false, y, [], []);
        double At(double alpha)
        {
            GeneralizedLinearSolver<NegativeBinomialFamily> solver = new(new NegativeBinomialFamily(alpha, expected: false), x, data);
            solver.Maximize([.. fit.Regression.Coefficients.Values], GeneralizedLinearOptions.Default);
            return solver.LogLikelihood + new NegativeBinomialDispersion(data).LogLikelihoodPart(alpha) + data.LogLikelihoodConstant;
        }

        Close.Relative(fit.Regression.LogLikelihood, At(fit.Alpha), 1e-13);
        double h = 1e-3;
        double curvature = (At(fit.Alpha * Math.Exp(h)) - (2 * At(fit.Alpha)) + At(fit.Alpha * Math.Exp(-h))) / (h * h);
        Close.Relative(fit.Alpha / Math.Sqrt(-curvature), fit.AlphaStandardError, 1e-5, "standard error of alpha from the curvature of the profile");
        Assert.True(At(fit.Alpha * 1.01) < At(fit.Alpha) && At(fit.Alpha * 0.99) < At(fit.Alpha));
    }

    [Fact]
    public void Weights_of_two_are_rows_twice()
    {
        (DesignMatrix x, double[] y, Clusters _) = PoissonRegressionTests.Seizures();
        double[] weights = [.. Enumerable.Range(0, x.Rows).Select(i => (double)(i % 3))];
        int[] rows = [.. Enumerable.Range(0, x.Rows).SelectMany(i => Enumerable.Repeat(i, i % 3))];
        NegativeBinomialFit weighted = NegativeBinomialRegression.Fit(x, y, weights: weights);
        NegativeBinomialFit repeated = NegativeBinomialRegression.Fit(x.SelectRows(rows), [.. rows.Select(i => y[i])]);
        Close.Relative(repeated.Alpha, weighted.Alpha, 1e-9);
        Close.Relative(repeated.Regression.LogLikelihood, weighted.Regression.LogLikelihood, 1e-12);
        Close.Relative(repeated.Regression.NullLogLikelihood, weighted.Regression.NullLogLikelihood, 1e-12);
        Close.Relative(repeated.Regression.ScoreTest.Statistic, weighted.Regression.ScoreTest.Statistic, 1e-8);
    }
}
