using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class PoissonRegressionTests
{
    internal static (DesignMatrix X, double[] Y, Clusters Subjects) Seizures()
    {
        ReferenceCase data = ReferenceCase.Read("Counts/epilepsy");
        double[] treated = [.. data.Text("trt").Select(t => t == "progabide" ? 1.0 : 0)];
        double[] lbase = data.Column("lbase");
        DesignMatrix x = DesignMatrix.WithIntercept(
            ("lbase", lbase), ("tr", treated), ("lage", data.Column("lage")), ("V4", data.Column("V4")), ("lbase:tr", [.. lbase.Zip(treated, (a, b) => a * b)]));
        return (x, data.Column("y"), Clusters.From(data.Text("subject")));
    }

    internal static double[] LogYears => [.. Peers.Cohort.Knees["pyr"].Select(t => Math.Log(t))];

    [Fact]
    public void Two_groups_give_the_log_rate_ratio_in_closed_form()
    {
        // 15 events in 100 years against 6 in 80.
        GeneralizedLinearFit fit = PoissonRegression.Fit(DesignMatrix.WithIntercept(("exposed", [0, 1])), [6, 15], [Math.Log(80), Math.Log(100)]);
        Close.Relative(Math.Log(15.0 / 100 / (6.0 / 80)), fit.Coefficients.Values[1], 1e-9);
        Close.Relative(Math.Sqrt((1.0 / 15) + (1.0 / 6)), fit.Coefficients.StandardError(1), 1e-9);
        Assert.Equal(0, fit.Deviance, 10);
    }

    [Fact]
    public void Seizure_counts_agree_with_the_reference_library()
    {
        ReferenceCase reference = ReferenceCase.Read("Counts/epilepsy");
        (DesignMatrix x, double[] y, Clusters subjects) = Seizures();
        JsonElement expected = reference.Element("cases/poisson");
        GeneralizedLinearFit fit = PoissonRegression.Fit(x, y);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_model"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-12);
        Close.Relative(expected.GetProperty("deviance").GetDouble(), fit.Deviance, 1e-11);
        GeneralizedLinearFit clustered = PoissonRegression.Fit(x, y, clusters: subjects, options: new() { Variance = ClusterVariance.CR0 });
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_CR0"), clustered.Coefficients, 1e-8);
        GeneralizedLinearFit rows = PoissonRegression.Fit(x, y, clusters: Clusters.EachRow(x.Rows), options: new() { Variance = ClusterVariance.CR0 });
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_HC0"), rows.Coefficients, 1e-8);
    }

    [Fact]
    public void The_rates_of_the_cohort_agree_with_the_reference_library()
    {
        // The standard errors come from Counts/poisson_cohort: those of Peers/tight_300.json were taken one iteration early.
        JsonElement expected = Peers.Estimates("poisson_rate_cluster");
        JsonElement converged = ReferenceCase.Read("Counts/poisson_cohort").Element("cases/poisson_rate");
        DesignMatrix x = LogisticRegressionTests.Knees("av", "tfa", "lax", "age", "female");
        GeneralizedLinearFit fit = PoissonRegression.Fit(
            x, Peers.Cohort.Knees["nd"], LogYears, Clusters.From(Peers.Cohort.Knees.Person), new() { Variance = ClusterVariance.CR0 });
        Peers.AssertEqual(expected.GetProperty("coef"), converged.GetProperty("se_CR0"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-12);
        Close.Relative(expected.GetProperty("deviance").GetDouble(), fit.Deviance, 1e-11);
        Close.Relative(expected.GetProperty("pearson").GetDouble(), fit.PearsonChiSquared, 1e-10);
        GeneralizedLinearFit independent = PoissonRegression.Fit(x, Peers.Cohort.Knees["nd"], LogYears);
        Peers.AssertEqual(expected.GetProperty("coef"), converged.GetProperty("se_model"), independent.Coefficients, 1e-8);
    }

    [Fact]
    public void The_default_variance_and_its_degrees_of_freedom_agree_with_the_paper_written_out()
    {
        DesignMatrix x = LogisticRegressionTests.Knees("av", "tfa", "lax", "age", "female");
        GeneralizedLinearFit fit = PoissonRegression.Fit(x, Peers.Cohort.Knees["nd"], LogYears, Clusters.From(Peers.Cohort.Knees.Person));
        LogisticRegressionTests.AssertReduced(ReferenceCase.Read("Binary/logit_cluster_reduced").Element("cases/poisson"), fit.Coefficients);
    }

    [Fact]
    public void A_group_without_events_is_named_whatever_else_is_in_the_model()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("braced", [0, 0, 0, 1, 1, 0]), ("age", [11, 12, 15, 13, 12, 14]));
        SeparationError error = Assert.Throws<SeparationError>(() => PoissonRegression.Fit(x, [2, 0, 1, 0, 0, 3]));
        Assert.Equal(["braced"], error.Columns);
        Assert.Contains("exact interval", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void High_counts_at_one_end_are_no_separation()
    {
        GeneralizedLinearFit fit = PoissonRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2, 3, 4])), [0, 0, 1, 900]);
        Assert.True(fit.Coefficients.Values[1] > 3);
    }

    [Fact]
    public void Time_at_risk_of_zero_and_fractions_of_events_are_refused()
    {
        DesignMatrix x = DesignMatrix.InterceptOnly(3);
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => PoissonRegression.Fit(x, [1, 0, 2], [0, Math.Log(0.0), 1]));
        Assert.Equal((1, "offset"), (error.Row!.Value, error.Column));
        Assert.Contains("no count", Assert.Throws<InvalidInputError>(() => PoissonRegression.Fit(x, [1, 0.5, 2])).Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => PoissonRegression.Fit(x, [0, 0, 0]));
    }
}
