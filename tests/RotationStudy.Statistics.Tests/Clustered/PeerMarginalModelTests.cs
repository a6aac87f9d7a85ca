using System.Text.Json;
using RotationStudy.Benchmarks;
using RotationStudy.Statistics.Clustered;

namespace RotationStudy.Statistics.Tests.Clustered;

/// <summary>The cohort of 300 persons (Peers/cohort_300) against tightened fits of geepack 1.3.9.</summary>
public class PeerMarginalModelTests
{
    [Theory]
    [InlineData("gee_logit_exch", "any", MarginalFamily.Binomial)]
    [InlineData("gee_poisson_exch", "nd", MarginalFamily.Poisson)]
    public void Exchangeable_models_agree(string id, string outcome, MarginalFamily family)
    {
        PeerTable t = Peers.Cohort.Knees;
        DesignMatrix x = DesignMatrix.WithIntercept(("av", t["av"]), ("tfa", t["tfa"]), ("lax", t["lax"]), ("age", t["age"]), ("female", t["female"]));
        double[]? offset = family == MarginalFamily.Poisson ? [.. t["pyr"].Select(v => Math.Log(v))] : null;
        GeneralizedEstimatingEquationsFit fit = GeneralizedEstimatingEquations.Fit(
            x, t[outcome], Clusters.From(t.Person), family, offset, new GeneralizedEstimatingEquationsOptions { Divisor = ScaleDivisor.Rows, Correction = SandwichCorrection.None });
        JsonElement expected = Peers.Estimates(id);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_sandwich"), fit.Coefficients, 1e-6);
        Close.Relative(expected.GetProperty("alpha").GetDouble(), fit.Correlation, 1e-6, "alpha");
        Close.Relative(expected.GetProperty("phi").GetDouble(), fit.Scale, 1e-6, "phi");
    }
}
