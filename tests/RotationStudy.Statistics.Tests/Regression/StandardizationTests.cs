using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Regression;

public class StandardizationTests
{
    [Fact]
    public void Without_other_columns_the_difference_is_the_plain_difference_of_shares()
    {
        double[] y = [.. Enumerable.Repeat(1.0, 6), .. Enumerable.Repeat(0.0, 24), .. Enumerable.Repeat(1.0, 12), .. Enumerable.Repeat(0.0, 28)];
        double[] group = [.. Enumerable.Repeat(0.0, 30), .. Enumerable.Repeat(1.0, 40)];
        StandardizedContrast contrast = Standardization.Contrast(LogisticRegression.Fit(DesignMatrix.WithIntercept(("group", group)), y), "group");
        Close.Relative(0.3 - 0.2, contrast.Difference.Value, 1e-9);
        Close.Relative(1.5, contrast.Ratio, 1e-9);
        Close.Relative(Math.Sqrt((0.3 * 0.7 / 40) + (0.2 * 0.8 / 30)), contrast.Difference.StandardError, 1e-9);
    }

    [Theory]
    [InlineData("standardised", false)]
    [InlineData("standardised_hc0", true)]
    public void Low_birth_weight_agrees_with_the_delta_method_written_out(string id, bool robust)
    {
        ReferenceCase reference = ReferenceCase.Read("Binary/risk_ratio");
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("smoke", "age", "lwt", "ht");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low, robust ? Clusters.EachRow(x.Rows) : null, new() { Variance = ClusterVariance.CR0 });
        StandardizedContrast contrast = Standardization.Contrast(fit, "smoke");
        Close.Relative(reference.Number($"cases/{id}/risk1"), contrast.First.Value, 1e-9);
        Close.Relative(reference.Number($"cases/{id}/risk0"), contrast.Second.Value, 1e-9);
        Close.Relative(reference.Number($"cases/{id}/difference"), contrast.Difference.Value, 1e-8);
        Close.Relative(reference.Number($"cases/{id}/se_difference"), contrast.Difference.StandardError, 1e-8);
        Close.Relative(reference.Number($"cases/{id}/log_ratio"), contrast.LogRatio.Value, 1e-8);
        Close.Relative(reference.Number($"cases/{id}/se_log_ratio"), contrast.LogRatio.StandardError, 1e-8);
    }

    [Fact]
    public void The_bootstrap_of_persons_is_the_same_on_one_thread_and_on_all_and_lies_near_the_delta_method()
    {
        DesignMatrix x = LogisticRegressionTests.Knees("av", "lax", "female");
        Clusters persons = Clusters.From(Peers.Cohort.Knees.Person);
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"], persons);
        DesignMatrix high = Standardization.WithColumn(x, "av", 30);
        DesignMatrix low = Standardization.WithColumn(x, "av", 20);
        BootstrapOptions options = new() { Replicates = 300, Seed = 5 };
        BootstrapResult all = Standardization.Bootstrap(fit, high, low, persons, options);
        BootstrapResult one = Standardization.Bootstrap(fit, high, low, persons, options with { Threads = 1 });
        StandardizedContrast delta = Standardization.Contrast(fit, high, low);
        Assert.Equal(one.Percentile(2), all.Percentile(2));
        Close.Relative(delta.Difference.Value, all.Original(2), 1e-7);
        Close.Relative(delta.Difference.StandardError, all.StandardError(2), 0.15, "three Monte-Carlo errors of 300 replicates are about 12%");
    }

    [Fact]
    public void A_rate_ratio_of_a_log_linear_model_is_the_exponentiated_coefficient()
    {
        (DesignMatrix x, double[] y, Clusters subjects) = PoissonRegressionTests.Seizures();
        GeneralizedLinearFit fit = PoissonRegression.Fit(x.SelectColumns([0, 1, 2, 3]), y, clusters: subjects);
        StandardizedContrast contrast = Standardization.Contrast(fit, "tr");
        Close.Relative(fit.Coefficients.Values[2], contrast.LogRatio.Value, 1e-12);
        Close.Relative(fit.Coefficients.StandardError(2), contrast.LogRatio.StandardError, 1e-10);
    }

    [Fact]
    public void A_column_that_the_model_does_not_have_is_refused()
    {
        (DesignMatrix x, double[] low) = LogisticRegressionTests.BirthWeights("smoke");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low);
        Assert.Contains("no column is called 'brace'", Assert.Throws<InvalidInputError>(() => Standardization.Contrast(fit, "brace")).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => Standardization.Contrast(fit, DesignMatrix.InterceptOnly(x.Rows), x));
    }
}
