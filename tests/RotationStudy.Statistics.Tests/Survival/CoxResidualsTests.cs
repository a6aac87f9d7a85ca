using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class CoxResidualsTests
{
    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;

    private static CoxFit Fit(string name) => name switch
    {
        "cox_efron" => CoxRegression.Fit(Data.Delayed, Data.X),
        "cox_breslow" => CoxRegression.Fit(Data.Delayed, Data.X, options: new() { Ties = TiesMethod.Breslow }),
        "cox_efron_strata_cluster" => CoxRegression.Fit(Data.Delayed, Data.X, Data.Clusters, Data.Sites),
        "cox_breslow_weights_cluster" => CoxRegression.Fit(Data.Delayed, Data.X, Data.Clusters, weights: Data.Weights, options: new() { Ties = TiesMethod.Breslow }),
        _ => CoxRegression.Fit(Data.Delayed, Data.X, Data.Clusters, weights: Data.Weights),
    };

    [Theory]
    [InlineData("cox_efron")]
    [InlineData("cox_breslow")]
    [InlineData("cox_efron_strata_cluster")]
    [InlineData("cox_breslow_weights_cluster")]
    [InlineData("cox_efron_weights_cluster")]
    public void Residuals_of_rows_agree_with_the_reference(string name)
    {
        CoxFit fit = Fit(name);
        Agree(Data.Numbers($"cases/{name}/martingale"), CoxResiduals.Martingale(fit), name);
        Agree(Data.Numbers($"cases/{name}/deviance"), CoxResiduals.Deviance(fit), name);
        for (int j = 0; j < 2; j++)
        {
            Agree(Column($"cases/{name}/score_resid", j), CoxResiduals.Score(fit).Column(j).ToArray(), name);
            Agree(Column($"cases/{name}/dfbeta", j), CoxResiduals.Dfbeta(fit).Column(j).ToArray(), name);
            Agree(Column($"cases/{name}/dfbeta_id", j), CoxResiduals.DfbetaByCluster(fit, Data.Clusters).Column(j).ToArray(), name);
        }
    }

    [Theory]
    [InlineData("cox_efron")]
    [InlineData("cox_breslow")]
    [InlineData("cox_efron_strata_cluster")]
    public void Residuals_of_events_agree_with_the_reference(string name)
    {
        CoxFit fit = Fit(name);
        EventResiduals plain = CoxResiduals.Schoenfeld(fit);
        EventResiduals scaled = CoxResiduals.ScaledSchoenfeld(fit);
        for (int j = 0; j < 2; j++)
        {
            // Tied events may stand in another order: compared sorted.
            Agree([.. Column($"cases/{name}/schoenfeld", j).Order()], [.. plain.Values.Column(j).ToArray().Order()], name);
            if (name != "cox_efron_strata_cluster")
                Agree([.. Column($"cases/{name}/scaled", j).Order()], [.. scaled.Values.Column(j).ToArray().Order()], name);
        }
        Assert.Equal(fit.Events, plain.Times.Count);
        Assert.Equal(plain.Times, plain.Rows.Select(r => Data.Delayed.Exit[r]));
    }

    [Fact]
    public void Remission_times_agree_with_the_reference()
    {
        ReferenceCase gehan = ReferenceCase.Read("Survival/gehan_6mp");
        SurvivalTimes times = SurvivalTimes.RightCensored(gehan.Column("time"), [.. gehan.Column("cens").Select(c => c == 1)]);
        CoxFit fit = CoxRegression.Fit(times, DesignMatrix.FromColumns(("tr", [.. gehan.Text("treat").Select(t => t == "control" ? 1.0 : 0.0)])));
        double[] Expected(string path) => [.. gehan.Element(path).EnumerateArray().Select(e => e.GetDouble())];
        Agree(Expected("cases/cox_control_vs_6MP/martingale_resid_efron"), CoxResiduals.Martingale(fit), "martingale");
        Agree(Expected("cases/cox_control_vs_6MP/dfbeta_efron"), CoxResiduals.Dfbeta(fit).Column(0).ToArray(), "dfbeta");
        Agree([.. Expected("cases/cox_control_vs_6MP/schoenfeld_efron").Order()], [.. CoxResiduals.Schoenfeld(fit).Values.Column(0).ToArray().Order()], "schoenfeld");
        Assert.Equal(Expected("cases/cox_control_vs_6MP/schoenfeld_time"), CoxResiduals.Schoenfeld(fit).Times);
    }

    [Fact]
    public void Martingale_score_and_Schoenfeld_residuals_sum_to_zero()
    {
        CoxFit fit = Fit("cox_efron_strata_cluster");
        Assert.Equal(0, CoxResiduals.Martingale(fit).Sum(), 10);
        Assert.Equal(0, CoxResiduals.Score(fit).Column(0).ToArray().Sum(), 9);
        Assert.Equal(0, CoxResiduals.Schoenfeld(fit).Values.Column(1).ToArray().Sum(), 9);
        Assert.Equal(fit.Events, CoxResiduals.CoxSnell(fit).Sum(), 9);
    }

    [Fact]
    public void A_fit_with_exact_discrete_ties_has_no_residuals()
    {
        CoxFit exact = CoxRegression.Fit(Data.Delayed, Data.X, options: new() { Ties = TiesMethod.ExactDiscrete });
        Assert.Contains("exact discrete ties", Assert.Throws<InvalidInputError>(() => CoxResiduals.Martingale(exact)).Message, StringComparison.Ordinal);
    }

    private static double[] Column(string path, int j) => [.. Data.Case.Element(path).EnumerateArray().Select(r => r[j].GetDouble())];

    private static void Agree(double[] expected, IReadOnlyList<double> found, string what)
    {
        Assert.Equal(expected.Length, found.Count);
        for (int i = 0; i < expected.Length; i++)
            Assert.True(Math.Abs(expected[i] - found[i]) < 1e-8, FormattableString.Invariant($"{what} row {i}: {expected[i]:R} {found[i]:R}"));
    }
}
