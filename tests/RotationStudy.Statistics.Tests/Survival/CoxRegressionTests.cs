using System.Text.Json;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class CoxRegressionTests
{
    private const double Tolerance = 1e-8;

    private static readonly ReferenceCase Gehan = ReferenceCase.Read("Survival/gehan_6mp");

    private static SurvivalTimes GehanTimes => SurvivalTimes.RightCensored(Gehan.Column("time"), [.. Gehan.Column("cens").Select(c => c == 1)]);

    private static DesignMatrix GehanArm => DesignMatrix.FromColumns(("tr", [.. Gehan.Text("treat").Select(t => t == "control" ? 1.0 : 0.0)]));

    [Theory]
    [InlineData(TiesMethod.Efron, 0)]
    [InlineData(TiesMethod.Breslow, 1)]
    [InlineData(TiesMethod.ExactDiscrete, 2)]
    public void Remission_times_of_Freireich_1963_agree_with_the_reference(TiesMethod ties, int index)
    {
        CoxFit fit = CoxRegression.Fit(GehanTimes, GehanArm, options: new() { Ties = ties });
        Agrees(Gehan.Element($"cases/cox_control_vs_6MP/fits/{index}"), fit);
        if (ties == TiesMethod.ExactDiscrete)
            Close.Relative(LogRank.Test(GehanTimes, Gehan.Text("treat")).Test.Statistic, fit.ScoreTest.Statistic, 1e-12);
        // Recalled from textbooks, not re-read: 1.572, 1.509 and 1.628.
        Close.Printed(index == 0 ? 1.572 : index == 1 ? 1.509 : 1.628, fit.Coefficients.Values[0], 3);
    }

    [Fact]
    public void Veteran_data_agree_with_the_reference()
    {
        ReferenceCase veteran = ReferenceCase.Read("Survival/veteran");
        SurvivalTimes times = SurvivalTimes.RightCensored(veteran.Column("time"), [.. veteran.Column("status").Select(s => s == 1)]);
        string[] cell = veteran.Text("celltype");
        (string, IReadOnlyList<double>) Is(string type) => ("celltype" + type, [.. cell.Select(c => c == type ? 1.0 : 0.0)]);
        (string, IReadOnlyList<double>) Named(string name) => (name, veteran.Column(name));
        DesignMatrix x = DesignMatrix.FromColumns(Named("trt"), Is("smallcell"), Is("adeno"), Is("large"), Named("karno"), Named("diagtime"), Named("age"), Named("prior"));
        Agrees(veteran.Element("cases/cox_efron"), CoxRegression.Fit(times, x));
        Agrees(veteran.Element("cases/cox_breslow"), CoxRegression.Fit(times, x, options: new() { Ties = TiesMethod.Breslow }));
        DesignMatrix two = DesignMatrix.FromColumns(Named("trt"), Named("karno"));
        Agrees(veteran.Element("cases/cox_strata_celltype"), CoxRegression.Fit(times, two, strata: Clusters.From(cell)));
    }

    [Fact]
    public void Lung_and_ovarian_data_agree_with_the_reference()
    {
        ReferenceCase lung = ReferenceCase.Read("Survival/lung");
        SurvivalTimes all = SurvivalTimes.RightCensored(lung.Column("time"), [.. lung.Column("status").Select(s => s == 2)]);
        DesignMatrix two = DesignMatrix.FromColumns(("age", lung.Column("age")), ("sex", lung.Column("sex")));
        int[] known = [.. Enumerable.Range(0, all.Rows).Where(i => double.IsFinite(lung.Column("ph.ecog")[i]))];
        double[] ecog = [.. known.Select(i => lung.Column("ph.ecog")[i])];
        DesignMatrix knownTwo = two.SelectRows(known);
        DesignMatrix three = DesignMatrix.FromColumns(("age", knownTwo.Column(0).ToArray()), ("sex", knownTwo.Column(1).ToArray()), ("ph.ecog", ecog));
        Agrees(lung.Element("cases/cox"), CoxRegression.Fit(all.SelectRows(known), three));
        int[] placed = [.. Enumerable.Range(0, all.Rows).Where(i => lung.Text("inst")[i] is not ("" or "NA"))];
        Clusters sites = Clusters.From(placed.Select(i => lung.Text("inst")[i]).ToArray());
        Agrees(lung.Element("cases/cox_cluster_inst"), CoxRegression.Fit(all.SelectRows(placed), two.SelectRows(placed), sites, options: new() { ClusterVariance = CoxClusterVariance.Sandwich }));
        ReferenceCase ovarian = ReferenceCase.Read("Survival/ovarian");
        SurvivalTimes follow = SurvivalTimes.RightCensored(ovarian.Column("futime"), [.. ovarian.Column("fustat").Select(s => s == 1)]);
        DesignMatrix x = DesignMatrix.FromColumns(("age", ovarian.Column("age")), ("rx", ovarian.Column("rx")));
        Agrees(ovarian.Element("cases/cox_age_rx"), CoxRegression.Fit(follow, x));
    }

    [Theory]
    [InlineData("cox_efron", TiesMethod.Efron, false, false, false)]
    [InlineData("cox_breslow", TiesMethod.Breslow, false, false, false)]
    [InlineData("cox_efron_cluster", TiesMethod.Efron, true, false, false)]
    [InlineData("cox_efron_strata_cluster", TiesMethod.Efron, true, true, false)]
    [InlineData("cox_breslow_weights_cluster", TiesMethod.Breslow, true, false, true)]
    [InlineData("cox_efron_weights_cluster", TiesMethod.Efron, true, false, true)]
    public void Delayed_entry_agrees_with_the_reference(string name, TiesMethod ties, bool clustered, bool stratified, bool weighted)
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxFit fit = CoxRegression.Fit(
            data.Delayed,
            data.X,
            clustered ? data.Clusters : null,
            stratified ? data.Sites : null,
            weighted ? data.Weights : null,
            options: new() { Ties = ties, ClusterVariance = CoxClusterVariance.Sandwich });
        string path = $"cases/{name}/";
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(data.Case.Number($"{path}coef/x{j + 1}"), fit.Coefficients.Values[j], Tolerance);
            Close.Relative(data.Case.Number($"{path}se/{j}"), Math.Sqrt(fit.ModelCovariance[j, j]), Tolerance);
            if (clustered)
                Close.Relative(data.Case.Number($"{path}se_robust/{j}"), fit.Coefficients.StandardError(j), Tolerance);
        }
        Close.Relative(data.Case.Number($"{path}loglik/0"), fit.NullLogLikelihood, 1e-12);
        Close.Relative(data.Case.Number($"{path}loglik/1"), fit.LogLikelihood, 1e-12);
        Close.Relative(data.Case.Number($"{path}score"), fit.ScoreTest.Statistic, Tolerance);
    }

    [Theory]
    [InlineData(TiesMethod.Efron, false)]
    [InlineData(TiesMethod.Breslow, true)]
    public void Shares_of_clusters_add_up_to_the_information(TiesMethod ties, bool stratified)
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxFit fit = CoxRegression.Fit(data.Delayed, data.X, data.Clusters, stratified ? data.Sites : null, data.Weights, options: new() { Ties = ties });
        double[] shares = CoxClusterInformation.Shares(fit.Likelihood!, data.Clusters);
        for (int i = 0; i < 4; i++)
            Close.Relative(fit.Likelihood!.Information[i], Enumerable.Range(0, data.Clusters.Count).Sum(g => shares[(4 * g) + i]), 1e-11);
    }

    [Fact]
    public void The_corrected_covariance_is_close_to_refitting_without_each_cluster()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxFit fit = CoxRegression.Fit(data.Delayed, data.X, data.Clusters);
        double[] sum = new double[2];
        for (int g = 0; g < data.Clusters.Count; g++)
        {
            int cluster = g;
            int[] rest = [.. Enumerable.Range(0, data.Delayed.Rows).Where(i => data.Clusters.ClusterOfRow[i] != cluster)];
            CoxFit without = CoxRegression.Fit(data.Delayed.SelectRows(rest), data.X.SelectRows(rest));
            for (int j = 0; j < 2; j++)
                sum[j] += Math.Pow(without.Coefficients.Values[j] - fit.Coefficients.Values[j], 2);
        }
        for (int j = 0; j < 2; j++)
            Close.Relative(Math.Sqrt(sum[j]), fit.Coefficients.StandardError(j), 0.05);
        Assert.InRange(fit.Coefficients.DegreesOfFreedom[0], 10, data.Clusters.Count - 1);
    }

    [Fact]
    public void Exact_discrete_ties_with_strata_and_with_delayed_entry_agree_with_the_reference()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxOptions exact = new() { Ties = TiesMethod.ExactDiscrete };
        Close.Relative(data.Case.Number("cases/cox_exact_strata/coef/x1"), CoxRegression.Fit(data.FromZero, data.X, strata: data.Sites, options: exact).Coefficients.Values[0], Tolerance);
        CoxFit delayed = CoxRegression.Fit(data.Delayed, data.X, options: exact);
        Close.Relative(data.Case.Number("cases/cox_exact_delayed/coef/x2"), delayed.Coefficients.Values[1], Tolerance);
        Close.Relative(data.Case.Number("cases/cox_exact_delayed/se/1"), delayed.Coefficients.StandardError(1), Tolerance);
    }

    [Fact]
    public void Splitting_follow_up_and_shuffling_rows_change_nothing()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxFit whole = CoxRegression.Fit(data.Delayed, data.X, data.Clusters);
        (SurvivalTimes split, int[] rowOf) = SplitFollowUp.At(data.Delayed, 6.5);
        CoxFitAssert.Same(whole, CoxRegression.Fit(split, data.X.SelectRows(rowOf), data.Clusters.SelectRows(rowOf)));
        int[] order = SplitFollowUp.Shuffled(data.Delayed.Rows, 11);
        CoxFitAssert.Same(whole, CoxRegression.Fit(data.Delayed.SelectRows(order), data.X.SelectRows(order), data.Clusters.SelectRows(order)));
    }

    [Fact]
    public void Rescaling_a_column_rescales_its_coefficient()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        DesignMatrix scaled = DesignMatrix.FromColumns(("x1", [.. data.Case.Column("x1").Select(v => (1e6 * v) + 3e6)]), ("x2", data.Case.Column("x2")));
        CoxFit a = CoxRegression.Fit(data.Delayed, data.X, data.Clusters);
        CoxFit b = CoxRegression.Fit(data.Delayed, scaled, data.Clusters);
        Close.Relative(a.Coefficients.Values[0], 1e6 * b.Coefficients.Values[0], 1e-9);
        Close.Relative(a.Coefficients.StandardError(0), 1e6 * b.Coefficients.StandardError(0), 1e-9);
        Close.Relative(a.LogLikelihood, b.LogLikelihood, 1e-12);
    }

    [Fact]
    public void A_weight_of_two_is_the_row_twice_under_Breslow_and_a_weight_of_zero_is_no_row()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxOptions breslow = new() { Ties = TiesMethod.Breslow };
        int n = data.Delayed.Rows;
        int[] rows = [.. Enumerable.Range(0, n), .. Enumerable.Range(0, n).Where(i => i % 3 == 0)];
        double[] weights = [.. Enumerable.Range(0, n).Select(i => i % 3 == 0 ? 2.0 : 1.0)];
        CoxFitAssert.Same(
            CoxRegression.Fit(data.Delayed, data.X, data.Clusters, weights: weights, options: breslow),
            CoxRegression.Fit(data.Delayed.SelectRows(rows), data.X.SelectRows(rows), data.Clusters.SelectRows(rows), options: breslow));
        int[] kept = [.. Enumerable.Range(0, n).Where(i => i % 4 != 0)];
        double[] zeros = [.. Enumerable.Range(0, n).Select(i => i % 4 == 0 ? 0.0 : 1.0)];
        CoxFitAssert.Same(
            CoxRegression.Fit(data.Delayed, data.X, weights: zeros, options: breslow),
            CoxRegression.Fit(data.Delayed.SelectRows(kept), data.X.SelectRows(kept), options: breslow));
    }

    [Fact]
    public void An_offset_is_a_coefficient_held_at_one()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        CoxFit free = CoxRegression.Fit(data.Delayed, data.X);
        double[] offset = [.. data.Case.Column("x2").Select(v => v * free.Coefficients.Values[1])];
        CoxFit held = CoxRegression.Fit(data.Delayed, data.X.SelectColumns([0]), offset: offset);
        Close.Relative(free.Coefficients.Values[0], held.Coefficients.Values[0], 1e-9);
        Close.Relative(free.LogLikelihood, held.LogLikelihood, 1e-12);
    }

    [Fact]
    public void A_monotone_likelihood_is_named()
    {
        // All events have x = 1 while rows with x = 0 are at risk: the hazard ratio is infinite. z is innocent.
        double[] time = [1, 2, 3, 4, 5, 6, 7, 8];
        bool[] events = [true, false, true, false, true, false, false, false];
        DesignMatrix x = DesignMatrix.FromColumns(("z", [0.3, 1.0, 0.9, 0.2, 0.6, 0.5, 0.1, 0.8]), ("x", [1, 0, 1, 0, 1, 0, 0, 0]));
        foreach (TiesMethod ties in Enum.GetValues<TiesMethod>())
        {
            SeparationError error = Assert.Throws<SeparationError>(() => CoxRegression.Fit(SurvivalTimes.RightCensored(time, events), x, options: new() { Ties = ties }));
            Assert.Equal(["x"], error.Columns);
        }
    }

    [Fact]
    public void Columns_without_information_are_named()
    {
        ClusteredDelayed data = ClusteredDelayed.Instance;
        double[] x1 = data.Case.Column("x1");
        double[] constant = [.. x1.Select(_ => 0.1)];
        double[] sum = [.. x1.Select((v, i) => (2 * v) - data.Case.Column("x2")[i])];
        double[] site = [.. data.Case.Text("site").Select(s => s == "a" ? 1.0 : 0.0)];
        (string, IReadOnlyList<double>) first = ("x1", x1);
        Assert.Equal(["c"], Assert.Throws<RankDeficientError>(() => CoxRegression.Fit(data.Delayed, DesignMatrix.FromColumns(first, ("c", constant)))).Columns);
        Assert.Equal(["sum"], Assert.Throws<RankDeficientError>(() => CoxRegression.Fit(data.Delayed, DesignMatrix.FromColumns(first, ("x2", data.Case.Column("x2")), ("sum", sum)))).Columns);
        Assert.Equal(["site"], Assert.Throws<RankDeficientError>(() => CoxRegression.Fit(data.Delayed, DesignMatrix.FromColumns(first, ("site", site)), strata: data.Sites)).Columns);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        SurvivalTimes none = SurvivalTimes.RightCensored([1, 2, 3], [false, false, false]);
        SurvivalTimes some = SurvivalTimes.RightCensored([1, 2, 3], [true, true, false]);
        DesignMatrix x = DesignMatrix.FromColumns(("x", [1, 2, 1.5]));
        Assert.Contains("no row ends with an event", Assert.Throws<TooFewDataError>(() => CoxRegression.Fit(none, x)).Message, StringComparison.Ordinal);
        Assert.Contains("one cluster", Assert.Throws<TooFewDataError>(() => CoxRegression.Fit(some, x, Clusters.From([1, 1, 1]))).Message, StringComparison.Ordinal);
        Assert.Contains("below 0", Assert.Throws<InvalidInputError>(() => CoxRegression.Fit(some, x, weights: [1, -1, 1])).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => CoxRegression.Fit(some, x, offset: [1, double.NaN, 1]));
        Assert.Throws<InvalidInputError>(() => CoxRegression.Fit(some, x, weights: [1, 1, 1], options: new() { Ties = TiesMethod.ExactDiscrete }));
    }

    [Fact]
    public void Only_tied_events_everywhere_still_give_an_estimate()
    {
        SurvivalTimes tied = SurvivalTimes.RightCensored([2, 2, 2, 2, 3, 3, 3, 3], [true, true, true, false, true, true, true, false]);
        DesignMatrix x = DesignMatrix.FromColumns(("x", [0.2, 1, 0.5, 0.4, 0.9, 0.1, 0.7, 0.3]));
        Assert.True(double.IsFinite(CoxRegression.Fit(tied, x).Coefficients.Values[0]));
    }

    private static void Agrees(JsonElement expected, CoxFit fit)
    {
        int j = 0;
        foreach (JsonProperty term in expected.GetProperty("coef").EnumerateObject())
        {
            // A coefficient that is zero to four digits of its error is compared on the scale of that error.
            double error = expected.GetProperty("se").GetProperty(term.Name).GetDouble();
            Assert.True(Math.Abs(fit.Coefficients.Values[j] - term.Value.GetDouble()) <= Tolerance * Math.Max(Math.Abs(term.Value.GetDouble()), error), term.Name);
            Close.Relative(error, Math.Sqrt(fit.ModelCovariance[j, j]), Tolerance, term.Name);
            if (expected.TryGetProperty("se_robust", out JsonElement robust))
                Close.Relative(robust.GetProperty(term.Name).GetDouble(), fit.Coefficients.StandardError(j), Tolerance, term.Name);
            j++;
        }
        Assert.Equal(expected.GetProperty("nevent").GetInt32(), fit.Events);
        Close.Relative(expected.GetProperty("loglik_null_model")[0].GetDouble(), fit.NullLogLikelihood, 1e-12);
        Close.Relative(expected.GetProperty("loglik_null_model")[1].GetDouble(), fit.LogLikelihood, 1e-12);
        Close.Relative(expected.GetProperty("score_test").GetDouble(), fit.ScoreTest.Statistic, Tolerance);
        if (!expected.TryGetProperty("se_robust", out _))
            Close.Relative(expected.GetProperty("wald_test").GetDouble(), fit.Coefficients.WaldTest(fit.Coefficients.Terms).Statistic, Tolerance);
    }
}
