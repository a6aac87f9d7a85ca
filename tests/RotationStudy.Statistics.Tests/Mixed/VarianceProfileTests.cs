using System.Text.Json;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

/// <summary>Profile intervals against lme4 1.1.31 (full likelihood), which interpolates its profile by splines: four digits.</summary>
public class VarianceProfileTests
{
    private const double Interpolated = 2e-4;

    private static readonly LinearMixedModelOptions Full = new() { Criterion = LikelihoodCriterion.Full };

    [Fact]
    public void Nested_terms_agree_and_a_bound_at_zero_is_zero()
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/pastes");
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(60), data.Column("strength"), [new RandomTerm("sample", Clusters.From(data.Text("sample"))), new RandomTerm("batch", Clusters.From(data.Text("batch")))], Full);
        JsonElement expected = data.Element("pastes_ml").GetProperty("profile");
        Agree(expected, 0, fit.StandardDeviationInterval("sample"));
        Agree(expected, 1, fit.StandardDeviationInterval("batch"));
        Agree(expected, 2, fit.StandardDeviationInterval(VarianceComponent.ResidualName));
    }

    [Fact]
    public void Crossed_terms_agree()
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/penicillin");
        LinearMixedModelFit fit = LinearMixedModel.Fit(
            DesignMatrix.InterceptOnly(144), data.Column("diameter"), [new RandomTerm("plate", Clusters.From(data.Text("plate"))), new RandomTerm("sample", Clusters.From(data.Text("sample")))], Full);
        JsonElement expected = data.Element("penicillin_ml").GetProperty("profile");
        Agree(expected, 0, fit.StandardDeviationInterval("plate"));
        Agree(expected, 1, fit.StandardDeviationInterval("sample"));
        Agree(expected, 2, fit.StandardDeviationInterval(VarianceComponent.ResidualName));
    }

    [Fact]
    public void Intercept_and_slope_agree()
    {
        ReferenceCase data = ReferenceCase.Read("Mixed/sleepstudy");
        DesignMatrix x = DesignMatrix.WithIntercept(("Days", data.Column("Days")));
        LinearMixedModelFit fit = LinearMixedModel.Fit(x, data.Column("Reaction"), [new RandomTerm("person", Clusters.From(data.Text("Subject")), x)], Full);
        JsonElement expected = ReferenceCase.Read("Mixed/nested_and_crossed").Element("sleepstudy_ml_profile");
        Agree(expected, 0, fit.StandardDeviationInterval("person"));
        Agree(expected, 2, fit.StandardDeviationInterval("person", "Days"));
        Agree(expected, 3, fit.StandardDeviationInterval(VarianceComponent.ResidualName));
    }

    private static void Agree(JsonElement expected, int term, ConfidenceInterval found)
    {
        Close.Relative(expected.GetProperty("lower")[term].GetDouble(), found.Lower, Interpolated, "lower");
        Close.Relative(expected.GetProperty("upper")[term].GetDouble(), found.Upper, Interpolated, "upper");
    }
}
