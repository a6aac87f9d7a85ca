using System.Text.Json;
using RotationStudy.Benchmarks;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

/// <summary>The cohort of 300 persons (Peers/cohort_300) against tightened fits of lme4 1.1.31.</summary>
public class PeerMixedModelTests
{
    [Theory]
    [InlineData("lmm_reml", LikelihoodCriterion.Restricted)]
    [InlineData("lmm_ml", LikelihoodCriterion.Full)]
    public void Knees_within_persons_with_slopes_agree_and_are_at_least_as_likely(string id, LikelihoodCriterion criterion)
    {
        PeerTable t = Peers.Cohort.Visits;
        DesignMatrix x = DesignMatrix.WithIntercept(("yr", t["yr"]), ("av", t["av"]), ("tfa", t["tfa"]), ("lax", t["lax"]), ("age", t["age"]), ("female", t["female"]));
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            x,
            t["out"],
            [new RandomTerm("knee", Clusters.From(t.Knee)), new RandomTerm("person", Clusters.From(t.Person), DesignMatrix.WithIntercept(("yr", t["yr"])))],
            new LinearMixedModelOptions { Criterion = criterion });
        JsonElement expected = Peers.Estimates(id);
        double logLikelihood = expected.GetProperty("logLik").GetDouble();
        Close.Relative(logLikelihood, fit.LogLikelihood, 1e-10);
        Assert.True(fit.LogLikelihood > logLikelihood - 1e-8);
        Peers.AssertEqual(expected.GetProperty("fixef"), expected.GetProperty("se"), fit.Coefficients, 1e-5);
        double[] components = Peers.Numbers(expected.GetProperty("varcomp"));
        for (int k = 0; k < components.Length; k++)
            Close.Relative(components[k], fit.VarianceComponents[k].Value, 1e-4, "variance component");
    }

    [Fact]
    public void A_logistic_random_intercept_agrees_and_is_at_least_as_likely()
    {
        PeerTable t = Peers.Cohort.Knees;
        DesignMatrix x = DesignMatrix.WithIntercept(
            ("av", [.. t["av"].Select(v => (v - 20) / 10)]), ("tfa", [.. t["tfa"].Select(v => (v - 15) / 10)]), ("lax", [.. t["lax"].Select(v => v - 3)]), ("age", [.. t["age"].Select(v => v - 14)]), ("female", t["female"]));
        GeneralizedLinearMixedModelFit fit = GeneralizedLinearMixedModel.Fit(x, t["any"], Clusters.From(t.Person), MixedOutcome.Binary);
        JsonElement expected = Peers.Estimates("glmm_logit_agq10");
        double logLikelihood = expected.GetProperty("logLik").GetDouble();
        Close.Relative(logLikelihood, fit.LogLikelihood, 1e-8);
        Assert.True(fit.LogLikelihood > logLikelihood - 1e-8);
        Peers.AssertEqual(expected.GetProperty("fixef"), expected.GetProperty("se"), fit.Coefficients, 2e-5);
        Close.Relative(Peers.Numbers(expected.GetProperty("varcomp"))[0], fit.StandardDeviation * fit.StandardDeviation, 1e-4);
    }
}
