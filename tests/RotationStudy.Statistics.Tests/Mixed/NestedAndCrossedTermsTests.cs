using System.Text.Json;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

public class NestedAndCrossedTermsTests
{
    private static readonly ReferenceCase Cohort = ReferenceCase.Read("Mixed/nested_and_crossed");

    [Theory]
    [InlineData("pastes_reml", LikelihoodCriterion.Restricted)]
    [InlineData("pastes_ml", LikelihoodCriterion.Full)]
    public void Casks_nested_in_batches_agree_with_the_reference(string id, LikelihoodCriterion criterion)
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/pastes");
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(60),
            data.Column("strength"),
            [new RandomTerm("sample", Clusters.From(data.Text("sample"))), new RandomTerm("batch", Clusters.From(data.Text("batch")))],
            new LinearMixedModelOptions { Criterion = criterion });
        Agree(data.Element(id), fit, 1e-5);
        if (criterion == LikelihoodCriterion.Restricted)
        {
            EffectsAgree(data.Element(id).GetProperty("sample"), fit.RandomEffects("sample"));
            EffectsAgree(data.Element(id).GetProperty("batch"), fit.RandomEffects("batch"));
        }
    }

    [Theory]
    [InlineData("penicillin_reml", LikelihoodCriterion.Restricted)]
    [InlineData("penicillin_ml", LikelihoodCriterion.Full)]
    public void Plates_crossed_with_samples_agree_with_the_reference(string id, LikelihoodCriterion criterion)
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/penicillin");
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(144),
            data.Column("diameter"),
            [new RandomTerm("plate", Clusters.From(data.Text("plate"))), new RandomTerm("sample", Clusters.From(data.Text("sample")))],
            new LinearMixedModelOptions { Criterion = criterion });
        Agree(data.Element(id), fit, 1e-5);
        if (criterion == LikelihoodCriterion.Restricted)
        {
            EffectsAgree(data.Element(id).GetProperty("plate"), fit.RandomEffects("plate"));
            EffectsAgree(data.Element(id).GetProperty("sample"), fit.RandomEffects("sample"));
        }
    }

    [Theory]
    [InlineData("unbalanced_reml", LikelihoodCriterion.Restricted)]
    [InlineData("unbalanced_ml", LikelihoodCriterion.Full)]
    public void Units_in_persons_in_sites_crossed_with_raters_agree_with_the_reference(string id, LikelihoodCriterion criterion)
    {
        LinearMixedModelFit fit = FitCohort(criterion, "time", "age");
        Agree(Cohort.Element(id), fit, 1e-5);
        if (criterion == LikelihoodCriterion.Full)
            return;
        EffectsAgree(Cohort.Element(id).GetProperty("unit"), fit.RandomEffects("unitid"), perColumn: 1);
        EffectsAgree(Cohort.Element(id).GetProperty("rater"), fit.RandomEffects("rater"));
        EffectsAgree(Cohort.Element(id).GetProperty("person"), fit.RandomEffects("person"), perColumn: 2);
        for (int i = 0; i < 10; i++)
            Close.Relative(Cohort.Element(id).GetProperty("fitted_head")[i].GetDouble(), fit.Fitted[i], 1e-6, "fitted");
    }

    [Fact]
    public void Degrees_of_freedom_and_standard_errors_after_Kenward_and_Roger_agree_with_the_reference()
    {
        JsonElement expected = Cohort.Element("unbalanced_reml");
        LinearMixedModelFit fit = FitCohort(new LinearMixedModelOptions { DegreesOfFreedom = FixedEffectDegreesOfFreedom.KenwardRoger }, "time", "age");
        for (int j = 0; j < 3; j++)
        {
            Close.Relative(expected.GetProperty("kr_se")[j].GetDouble(), fit.Coefficients.StandardError(j), 1e-5, "standard error");
            Close.Relative(expected.GetProperty("kr_df")[j].GetDouble(), fit.Coefficients.DegreesOfFreedom[j], 1e-5, "degrees of freedom");
        }
        AgreeF(expected.GetProperty("kr_F"), fit.EffectTest("time", "age"));
    }

    [Fact]
    public void A_joint_F_test_after_Satterthwaite_agrees_with_the_reference()
        => AgreeF(Cohort.Element("unbalanced_reml").GetProperty("satterthwaite_F"), FitCohort(LikelihoodCriterion.Restricted, "time", "age").EffectTest("time", "age"));

    [Fact]
    public void Kenward_and_Roger_refuse_the_full_likelihood()
        => Assert.Throws<InvalidInputError>(() => FitCohort(new LinearMixedModelOptions { Criterion = LikelihoodCriterion.Full, DegreesOfFreedom = FixedEffectDegreesOfFreedom.KenwardRoger }, "time"));

    [Fact]
    public void A_likelihood_ratio_test_agrees_with_the_reference()
    {
        TestResult test = FitCohort(LikelihoodCriterion.Full, "time").LikelihoodRatioTest(FitCohort(LikelihoodCriterion.Full, "time", "age"));
        Close.Relative(Cohort.Number("lrt_age/chisq"), test.Statistic, 1e-6);
        Close.Relative(Cohort.Number("lrt_age/p"), test.PValue, 1e-6);
    }

    [Fact]
    public void Restricted_likelihoods_of_different_columns_are_not_compared()
    {
        InvalidInputError error = Assert.Throws<InvalidInputError>(
            () => FitCohort(LikelihoodCriterion.Restricted, "time").LikelihoodRatioTest(FitCohort(LikelihoodCriterion.Restricted, "time", "age")));
        Assert.Contains("restricted likelihoods of different fixed columns", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_order_of_terms_and_rows_changes_nothing()
    {
        LinearMixedModelFit first = FitCohort(LikelihoodCriterion.Restricted, "time", "age");
        int[] order = [.. Enumerable.Range(0, first.Rows).OrderBy(i => (i * 7919) % 1009)];
        RandomTerm[] reversed = [.. first.Terms.Reverse().Select(t => t with { Groups = t.Groups.SelectRows(order), Columns = t.Columns?.SelectRows(order) })];
        DesignMatrix x = DesignMatrix.WithIntercept(("time", Cohort.Column("time")), ("age", Cohort.Column("age"))).SelectRows(order);
        LinearMixedModelFit second = LinearMixedModel.Fit(x, [.. order.Select(i => Cohort.Column("y")[i])], reversed);
        Close.Relative(first.LogLikelihood, second.LogLikelihood, 1e-12);
        for (int j = 0; j < 3; j++)
        {
            Close.Relative(first.Coefficients.Values[j], second.Coefficients.Values[j], 1e-9);
            Close.Relative(first.Coefficients.DegreesOfFreedom[j], second.Coefficients.DegreesOfFreedom[j], 1e-6);
        }
    }

    private static void AgreeF(JsonElement expected, TestResult test)
    {
        Close.Relative(expected[0].GetDouble(), test.Statistic, 1e-5, "F");
        Close.Relative(expected[1].GetDouble(), test.DegreesOfFreedom, 1e-12, "numerator");
        Close.Relative(expected[2].GetDouble(), test.DenominatorDegreesOfFreedom, 1e-5, "denominator");
        Close.Relative(expected[3].GetDouble(), test.PValue, 1e-5, "p");
    }

    private static LinearMixedModelFit FitCohort(LikelihoodCriterion criterion, params string[] columns)
        => FitCohort(new LinearMixedModelOptions { Criterion = criterion }, columns);

    private static LinearMixedModelFit FitCohort(LinearMixedModelOptions options, params string[] columns)
        => LinearMixedModel.Fit(
            DesignMatrix.WithIntercept([.. columns.Select(c => (c, (IReadOnlyList<double>)Cohort.Column(c)))]),
            Cohort.Column("y"),
            [
                Term("unitid"),
                new RandomTerm("person", Clusters.From(Cohort.Text("person")), DesignMatrix.WithIntercept(("time", Cohort.Column("time")))),
                Term("site"),
                Term("rater"),
            ],
            options);

    private static RandomTerm Term(string name) => new(name, Clusters.From(Cohort.Text(name)));

    private static void Agree(JsonElement expected, LinearMixedModelFit fit, double tolerance)
    {
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-10, "log-likelihood");
        int j = 0;
        foreach (JsonProperty value in expected.GetProperty("fixef").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.Values[j++], 1e-6, value.Name);
        j = 0;
        foreach (JsonProperty value in expected.GetProperty("se").EnumerateObject())
            Close.Relative(value.Value.GetDouble(), fit.Coefficients.StandardError(j++), tolerance, value.Name);
        j = 0;
        foreach (JsonElement value in expected.GetProperty("vc_vcov").EnumerateArray())
            Close.Relative(value.GetDouble(), fit.VarianceComponents[j++].Value, tolerance, "variance component");
        if (!expected.TryGetProperty("satterthwaite_df", out JsonElement df))
            return;
        j = 0;
        foreach (JsonElement value in df.ValueKind == JsonValueKind.Array ? [.. df.EnumerateArray()] : new[] { df })
            Close.Relative(value.GetDouble(), fit.Coefficients.DegreesOfFreedom[j++], tolerance, "degrees of freedom");
    }

    // The reference may list groups in another order: both are sorted.
    private static void EffectsAgree(JsonElement expected, IReadOnlyList<RandomEffect> effects, int perColumn = 1)
    {
        int column = 0;
        foreach (JsonProperty values in expected.GetProperty("value").EnumerateObject())
        {
            double[] wanted = [.. values.Value.EnumerateArray().Select(v => v.GetDouble()).Order()];
            RandomEffect[] found = [.. effects.Where((_, i) => i % perColumn == column).OrderBy(e => e.Value)];
            for (int g = 0; g < wanted.Length; g++)
                Assert.InRange(found[g].Value - wanted[g], -1e-5, 1e-5);
            double[] sd = [.. (perColumn == 1 ? expected.GetProperty("sd").EnumerateArray() : expected.GetProperty("sd")[column].EnumerateArray()).Select(v => v.GetDouble()).Order()];
            double[] foundSd = [.. found.Select(e => e.ConditionalStandardDeviation).Order()];
            for (int g = 0; g < sd.Length; g++)
                Close.Relative(sd[g], foundSd[g], 1e-5, "conditional standard deviation");
            column++;
        }
    }
}
