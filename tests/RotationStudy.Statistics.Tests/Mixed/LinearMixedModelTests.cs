using System.Text.Json;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

public class LinearMixedModelTests
{
    private static readonly LinearMixedModelOptions Full = new() { Criterion = LikelihoodCriterion.Full };

    [Fact]
    public void In_a_balanced_one_way_layout_the_restricted_variances_are_those_of_the_analysis_of_variance()
    {
        // Groups (1,2,3), (4,6,8), (10,10,10): group means 2, 6, 10, grand mean 6; between mean square 3 (16+0+16)/2 = 48,
        // within mean square (2 + 8 + 0)/6 = 5/3; variance between groups (48 - 5/3)/3, standard error sqrt(48/9).
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(9),
            [1.0, 2, 3, 4, 6, 8, 10, 10, 10],
            [new RandomTerm("group", Clusters.From([1, 1, 1, 2, 2, 2, 3, 3, 3]))]);
        Close.Relative(6, fit.Coefficients.Values[0], 1e-12);
        Close.Relative((48 - (5 / 3.0)) / 3, fit.Variance("group"), 1e-8);
        Close.Relative(5 / 3.0, fit.ResidualVariance, 1e-8);
        Close.Relative(Math.Sqrt(48 / 9.0), fit.Coefficients.StandardError(0), 1e-8);
        Close.Relative(2, fit.Coefficients.DegreesOfFreedom[0], 1e-6, "groups less one");
        Assert.Empty(fit.BoundaryTerms);
    }

    [Theory]
    [InlineData("lmm_slope_reml", true, LikelihoodCriterion.Restricted)]
    [InlineData("lmm_slope_ml", true, LikelihoodCriterion.Full)]
    [InlineData("lmm_int_reml", false, LikelihoodCriterion.Restricted)]
    public void Growth_data_agree_with_the_reference(string id, bool slope, LikelihoodCriterion criterion)
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        LinearMixedModelFit fit = FitGrowth(reference, slope, new LinearMixedModelOptions { Criterion = criterion });
        Agree(reference.Element("cases/" + id), fit);
    }

    [Fact]
    public void Growth_data_agree_with_the_printed_deviances_of_Jennrich_and_Schluchter()
    {
        // Jennrich & Schluchter 1986, Biometrics 42:805-820: -2 log L of the linear trend by sex; recalled, not re-read.
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        Close.Printed(427.806, -2 * FitGrowth(reference, true, Full).LogLikelihood, 3);
        Close.Printed(428.639, -2 * FitGrowth(reference, false, Full).LogLikelihood, 3);
    }

    [Fact]
    public void Growth_data_have_as_many_degrees_of_freedom_as_persons_carry()
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/orthodont");
        LinearMixedModelFit fit = FitGrowth(reference, true, new LinearMixedModelOptions());
        JsonElement expected = reference.Element("cases/satterthwaite_random_slope");
        for (int j = 0; j < 4; j++)
        {
            Close.Relative(25, fit.Coefficients.DegreesOfFreedom[j], 1e-6);
            Close.Relative(expected.GetProperty("p")[j].GetDouble(), fit.Coefficients.Estimate(j).PValue, 1e-5);
        }
        Close.Relative(79, FitGrowth(reference, false, new LinearMixedModelOptions()).Coefficients.DegreesOfFreedom[3], 1e-6);
    }

    [Theory]
    [InlineData("reml", true, LikelihoodCriterion.Restricted)]
    [InlineData("ml", true, LikelihoodCriterion.Full)]
    [InlineData("uncorrelated_reml", false, LikelihoodCriterion.Restricted)]
    public void Reaction_times_agree_with_the_reference(string id, bool correlated, LikelihoodCriterion criterion)
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/sleepstudy");
        LinearMixedModelFit fit = FitSleep(reference, correlated, new LinearMixedModelOptions { Criterion = criterion });
        Agree(reference.Element("cases/" + id), fit);
    }

    [Fact]
    public void Reaction_times_agree_in_predicted_effects()
    {
        ReferenceCase reference = ReferenceCase.Read("Mixed/sleepstudy");
        LinearMixedModelFit fit = FitSleep(reference, true, new LinearMixedModelOptions());
        JsonElement expected = reference.Element("cases/blup_reml");
        IReadOnlyList<RandomEffect> effects = fit.RandomEffects("person");
        for (int g = 0; g < 18; g++)
        {
            Assert.InRange(effects[2 * g].Value - expected.GetProperty("int")[g].GetDouble(), -1e-4, 1e-4);
            Assert.InRange(effects[(2 * g) + 1].Value - expected.GetProperty("days")[g].GetDouble(), -1e-4, 1e-4);
        }
        Close.Relative(17, fit.Coefficients.DegreesOfFreedom[1], 1e-6);
    }

    private static LinearMixedModelFit FitGrowth(ReferenceCase data, bool slope, LinearMixedModelOptions options)
    {
        double[] age = data.Column("age");
        double[] male = [.. data.Text("Sex").Select(s => s == "Male" ? 1.0 : 0.0)];
        DesignMatrix x = DesignMatrix.WithIntercept(("a", age), ("male", male), ("a:male", [.. age.Zip(male, (a, m) => a * m)]));
        RandomTerm person = new("person", Clusters.From(data.Text("Subject")), slope ? DesignMatrix.WithIntercept(("a", age)) : null);
        return LinearMixedModel.Fit(x, data.Column("distance"), [person], options);
    }

    private static LinearMixedModelFit FitSleep(ReferenceCase data, bool correlated, LinearMixedModelOptions options)
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("Days", data.Column("Days")));
        return LinearMixedModel.Fit(x, data.Column("Reaction"), [new RandomTerm("person", Clusters.From(data.Text("Subject")), x, correlated)], options);
    }

    private static void Agree(JsonElement expected, LinearMixedModelFit fit)
    {
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-10, "log-likelihood");
        int j = 0;
        foreach (JsonProperty value in expected.GetProperty("fixef").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.Values[j++], 1e-8, value.Name);
        j = 0;
        foreach (JsonProperty value in expected.GetProperty("se").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.StandardError(j++), 1e-6, value.Name);
        j = 0;
        foreach (JsonElement value in expected.GetProperty("vc_vcov").EnumerateArray())
            Close.Relative(value.GetDouble(), fit.VarianceComponents[j++].Value, 1e-5, "variance component");
    }
}
