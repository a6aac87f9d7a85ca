using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class OverdispersionTestsTests
{
    [Fact]
    public void Seizure_counts_agree_with_the_papers_written_out()
    {
        ReferenceCase reference = ReferenceCase.Read("Counts/overdispersion");
        (DesignMatrix x, double[] y, Clusters _) = PoissonRegressionTests.Seizures();
        GeneralizedLinearFit fit = PoissonRegression.Fit(x, y);
        Estimate quadratic = OverdispersionTests.CameronTrivedi(fit);
        Close.Relative(reference.Number("cases/epilepsy/alpha_quadratic"), quadratic.Value, 1e-8);
        Close.Relative(reference.Number("cases/epilepsy/se_quadratic"), quadratic.StandardError, 1e-8);
        Estimate linear = OverdispersionTests.CameronTrivediLinear(fit);
        Close.Relative(reference.Number("cases/epilepsy/alpha_linear"), linear.Value, 1e-8);
        Close.Relative(reference.Number("cases/epilepsy/se_linear"), linear.StandardError, 1e-8);
        Close.Relative(reference.Number("cases/epilepsy/dean"), OverdispersionTests.Dean(fit).Statistic, 1e-8);
    }

    [Fact]
    public void The_cohort_agrees_with_the_papers_written_out()
    {
        ReferenceCase reference = ReferenceCase.Read("Counts/poisson_cohort");
        GeneralizedLinearFit fit = PoissonRegression.Fit(LogisticRegressionTests.Knees("av", "tfa", "lax", "age", "female"), Peers.Cohort.Knees["nd"], PoissonRegressionTests.LogYears);
        Close.Relative(reference.Number("cases/poisson_rate/dean"), OverdispersionTests.Dean(fit).Statistic, 1e-8);
        Close.Relative(reference.Number("cases/poisson_rate/zero_inflation"), OverdispersionTests.ZeroInflation(fit).Statistic, 1e-8);
    }

    [Fact]
    public void For_one_mean_the_zero_test_is_the_closed_form_of_van_den_Broek()
    {
        // S = (n0 - n p0)^2 / (n p0 (1 - p0) - n m p0^2), p0 = exp(-m).
        double[] y = [.. Enumerable.Repeat(0.0, 20), .. Enumerable.Repeat(1.0, 6), .. Enumerable.Repeat(2.0, 8), .. Enumerable.Repeat(3.0, 6)];
        double m = y.Average();
        double p0 = Math.Exp(-m);
        TestResult test = OverdispersionTests.ZeroInflation(PoissonRegression.Fit(DesignMatrix.InterceptOnly(40), y));
        Close.Relative(Math.Pow(20 - (40 * p0), 2) / ((40 * p0 * (1 - p0)) - (40 * m * p0 * p0)), test.Statistic, 1e-9);
    }

    [Fact]
    public void Counts_that_vary_too_little_give_a_p_value_near_one()
        => Assert.True(OverdispersionTests.Dean(PoissonRegression.Fit(DesignMatrix.InterceptOnly(30), Enumerable.Repeat(new[] { 4.0, 5.0, 6.0 }, 10).SelectMany(v => v).ToArray())).PValue > 0.95);

    [Fact]
    public void Another_model_is_refused()
    {
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("smoke");
        Assert.Throws<InvalidInputError>(() => OverdispersionTests.Dean(LogisticRegression.Fit(x, low)));
    }
}
