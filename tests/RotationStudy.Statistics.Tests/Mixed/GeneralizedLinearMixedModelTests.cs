using System.Text.Json;
using MathNet.Numerics;
using RotationStudy.Statistics.Mixed;
using RotationStudy.Statistics.Tests.Clustered;

namespace RotationStudy.Statistics.Tests.Mixed;

public class GeneralizedLinearMixedModelTests
{
    [Fact]
    public void Quadrature_agrees_with_brute_force_integration()
    {
        // Two groups (1,1,0) and (0,0,1,0), intercept b = 0.3, s = 1.2: the integrals by a fine trapezoid rule.
        double[] y = [1, 1, 0, 0, 0, 1, 0];
        Clusters groups = Clusters.From([1, 1, 1, 2, 2, 2, 2]);
        DesignMatrix x = DesignMatrix.InterceptOnly(7);
        QuadratureLikelihood likelihood = new(OrthonormalBasis.Of(x), y, [], groups, MixedOutcome.Binary, 40);
        double expected = 0;
        for (int g = 0; g < 2; g++)
        {
            double integral = 0;
            for (double u = -12; u <= 12; u += 0.001)
            {
                double product = Math.Exp(-0.5 * u * u) / Math.Sqrt(2 * Math.PI);
                foreach (int i in groups.Members(g))
                    product *= 1 / (1 + Math.Exp((y[i] == 1 ? -1 : 1) * (0.3 + (1.2 * u))));
                integral += 0.001 * product;
            }
            expected -= 2 * Math.Log(integral);
        }
        Close.Relative(expected, likelihood.Deviance([0.3, 1.2], new double[2]), 1e-10);
    }

    [Theory]
    [InlineData(MixedOutcome.Binary, 1)]
    [InlineData(MixedOutcome.Binary, 7)]
    [InlineData(MixedOutcome.Count, 1)]
    [InlineData(MixedOutcome.Count, 5)]
    public void The_gradient_is_that_of_the_value(MixedOutcome kind, int points)
    {
        double[] y = kind == MixedOutcome.Binary ? [1, 1, 0, 0, 0, 1, 0] : [3, 1, 0, 5, 8, 6, 2];
        DesignMatrix x = DesignMatrix.WithIntercept(("age", [0.1, 0.5, -0.4, 1.2, 0.7, -0.9, 0.3]));
        QuadratureLikelihood likelihood = new(OrthonormalBasis.Of(x), y, [], Clusters.From([1, 1, 1, 2, 2, 2, 2]), kind, points);
        double[] at = [0.3, -0.2, 0.8];
        double[] gradient = new double[3];
        likelihood.Deviance(at, gradient);
        for (int j = 0; j < 3; j++)
        {
            double h = 1e-5;
            double[] up = [.. at];
            double[] down = [.. at];
            up[j] += h;
            down[j] -= h;
            double difference = (likelihood.Deviance(up, new double[3]) - likelihood.Deviance(down, new double[3])) / (2 * h);
            Close.Relative(difference, gradient[j], 1e-6, "parameter " + j);
        }
    }

    [Fact]
    public void Wheeze_agrees_with_the_reference()
    {
        (DesignMatrix x, double[] y, Clusters children) = WheezeData.Read(interaction: false);
        GeneralizedLinearMixedModelFit fit = GeneralizedLinearMixedModel.Fit(x, y, children, MixedOutcome.Binary, options: new GeneralizedLinearMixedModelOptions { QuadraturePoints = 20 });
        Agree(ReferenceCase.Read("Clustered/ohio_wheeze").Element("cases/glmm_agq20_main"), fit, fit.LogLikelihood);
    }

    [Fact]
    public void Seizures_agree_with_the_reference()
    {
        ReferenceCase data = ReferenceCase.Read("Counts/epilepsy");
        (DesignMatrix x, double[] y, Clusters persons) = Seizures(data);
        GeneralizedLinearMixedModelFit fit = GeneralizedLinearMixedModel.Fit(x, y, persons, MixedOutcome.Count, options: new GeneralizedLinearMixedModelOptions { QuadraturePoints = 15 });
        // The reference leaves out the likelihood of the saturated model.
        double saturated = y.Sum(v => (v > 0 ? v * Math.Log(v) : 0) - v - SpecialFunctions.GammaLn(v + 1));
        Agree(data.Element("cases/glmm_agq15"), fit, fit.LogLikelihood - saturated);
    }

    [Fact]
    public void Shuffling_rows_relabelling_groups_and_rescaling_columns_change_nothing_else()
    {
        (DesignMatrix x, double[] y, Clusters persons) = Seizures(ReferenceCase.Read("Counts/epilepsy"));
        int[] order = [.. Enumerable.Range(0, y.Length).OrderBy(i => (i * 101) % 239)];
        GeneralizedLinearMixedModelFit first = GeneralizedLinearMixedModel.Fit(x, y, persons, MixedOutcome.Count);
        DesignMatrix doubled = DesignMatrix.FromColumns([.. x.Names.Select((n, j) => (n, (IReadOnlyList<double>)[.. x.Column(j).ToArray().Select(v => j == 3 ? 1000 * v : v)]))]);
        GeneralizedLinearMixedModelFit second = GeneralizedLinearMixedModel.Fit(doubled.SelectRows(order), [.. order.Select(i => y[i])], persons.SelectRows(order), MixedOutcome.Count);
        Close.Relative(first.LogLikelihood, second.LogLikelihood, 1e-12);
        Close.Relative(first.StandardDeviation, second.StandardDeviation, 1e-7);
        Close.Relative(first.Coefficients.Values[3], 1000 * second.Coefficients.Values[3], 1e-6);
        Close.Relative(first.Coefficients.StandardError(3), 1000 * second.Coefficients.StandardError(3), 1e-6);
    }

    [Fact]
    public void A_constant_offset_moves_the_intercept_alone()
    {
        (DesignMatrix x, double[] y, Clusters persons) = Seizures(ReferenceCase.Read("Counts/epilepsy"));
        GeneralizedLinearMixedModelFit plain = GeneralizedLinearMixedModel.Fit(x, y, persons, MixedOutcome.Count);
        GeneralizedLinearMixedModelFit shifted = GeneralizedLinearMixedModel.Fit(x, y, persons, MixedOutcome.Count, [.. Enumerable.Repeat(0.5, y.Length)]);
        Close.Relative(plain.Coefficients.Values[0] - 0.5, shifted.Coefficients.Values[0], 1e-7);
        Close.Relative(plain.LogLikelihood, shifted.LogLikelihood, 1e-12);
    }

    [Fact]
    public void Groups_that_do_not_differ_have_a_variance_on_the_boundary_and_ordinary_regression_else()
    {
        // Every group is (0, 1): less alike than chance, so the best variance is zero and the log odds are zero.
        double[] y = [.. Enumerable.Range(0, 40).Select(i => (double)(i % 2))];
        Clusters pairs = Clusters.From([.. Enumerable.Range(0, 40).Select(i => i / 2)]);
        GeneralizedLinearMixedModelFit fit = GeneralizedLinearMixedModel.Fit(DesignMatrix.InterceptOnly(40), y, pairs, MixedOutcome.Binary);
        Assert.True(fit.IsOnBoundary);
        Assert.InRange(fit.Coefficients.Values[0], -1e-9, 1e-9);
        Close.Relative(Math.Sqrt(4 / 40.0), fit.Coefficients.StandardError(0), 1e-7);
        Close.Relative(40 * Math.Log(0.5), fit.LogLikelihood, 1e-9);
        Assert.Equal(0, fit.StandardDeviationInterval().Lower);
        Assert.Equal(1, fit.VarianceTest().PValue);
    }

    [Fact]
    public void The_profile_interval_ends_where_the_deviance_has_risen_by_the_quantile()
    {
        (DesignMatrix x, double[] y, Clusters persons) = Seizures(ReferenceCase.Read("Counts/epilepsy"));
        GeneralizedLinearMixedModelFit fit = GeneralizedLinearMixedModel.Fit(x, y, persons, MixedOutcome.Count);
        ConfidenceInterval interval = fit.StandardDeviationInterval();
        ConfidenceInterval recomputed = ReferenceProfile;
        Close.Relative(recomputed.Lower, interval.Lower, 1e-4);
        Close.Relative(recomputed.Upper, interval.Upper, 1e-4);
        Assert.True(fit.VarianceTest().PValue < 1e-10);
    }

    [Fact]
    public void Points_rule_is_exact_for_polynomials()
    {
        GaussHermiteRule rule = GaussHermiteRule.WithPoints(10);
        Close.Relative(Math.Sqrt(Math.PI), rule.Weights.Sum(), 1e-14);
        Close.Relative(Math.Sqrt(Math.PI) * 0.75, rule.Nodes.Zip(rule.Weights, (x, w) => w * Math.Pow(x, 4)).Sum(), 1e-13);
        Close.Relative(34459425.0 / 512 * Math.Sqrt(Math.PI), rule.Nodes.Zip(rule.Weights, (x, w) => w * Math.Pow(x, 18)).Sum(), 1e-12);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        DesignMatrix one = DesignMatrix.InterceptOnly(4);
        Clusters pairs = Clusters.From([1, 1, 2, 2]);
        Assert.Contains("single row", Assert.Throws<TooFewDataError>(() => GeneralizedLinearMixedModel.Fit(one, [0.0, 1, 0, 1], Clusters.EachRow(4), MixedOutcome.Binary)).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => GeneralizedLinearMixedModel.Fit(one, [0.0, 1, 0, 2], pairs, MixedOutcome.Binary));
        Assert.Throws<InvalidInputError>(() => GeneralizedLinearMixedModel.Fit(one, [0.0, 1, 0, 2.5], pairs, MixedOutcome.Count));
        Assert.Throws<InvalidInputError>(() => GeneralizedLinearMixedModel.Fit(one, [0.0, 1, 0, 1], pairs, MixedOutcome.Binary, options: new GeneralizedLinearMixedModelOptions { QuadraturePoints = 0 }));
        Assert.Throws<SeparationError>(() => GeneralizedLinearMixedModel.Fit(
            DesignMatrix.WithIntercept(("exposed", [0.0, 0, 0, 1, 1, 1])), [0.0, 0, 0, 1, 1, 1], Clusters.From([1, 1, 2, 2, 3, 3]), MixedOutcome.Binary));
    }

    // lme4 1.1.31, confint of glmer(..., nAGQ = 10) by profile likelihood, R 4.2.2; see ReferenceData/Counts/epilepsy_profile.
    private static ConfidenceInterval ReferenceProfile
    {
        get
        {
            ReferenceCase reference = ReferenceCase.Read("Counts/epilepsy_profile");
            return new ConfidenceInterval(reference.Number("sd_lower"), reference.Number("sd_upper"), 0.95);
        }
    }

    private static (DesignMatrix X, double[] Y, Clusters Persons) Seizures(ReferenceCase data)
    {
        double[] treated = [.. data.Text("trt").Select(t => t == "progabide" ? 1.0 : 0.0)];
        double[] baseline = data.Column("lbase");
        DesignMatrix x = DesignMatrix.WithIntercept(
            ("lbase", baseline), ("tr", treated), ("lage", data.Column("lage")), ("V4", data.Column("V4")), ("lbase:tr", [.. baseline.Zip(treated, (a, b) => a * b)]));
        return (x, data.Column("y"), Clusters.From(data.Text("subject")));
    }

    private static void Agree(JsonElement expected, GeneralizedLinearMixedModelFit fit, double logLikelihood)
    {
        Close.Relative(expected.GetProperty("logLik").GetDouble(), logLikelihood, 1e-8, "log-likelihood");
        int j = 0;
        foreach (JsonProperty value in expected.GetProperty("fixef").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.Values[j++], 1e-5, value.Name);
        j = 0;
        foreach (JsonProperty value in expected.GetProperty("se").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.StandardError(j++), 1e-4, value.Name);
        Close.Relative(expected.GetProperty("vc_vcov").GetDouble(), fit.StandardDeviation * fit.StandardDeviation, 1e-4, "variance");
    }
}
