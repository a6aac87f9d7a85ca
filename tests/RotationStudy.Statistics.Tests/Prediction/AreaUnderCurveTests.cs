using System.Text.Json;
using RotationStudy.Benchmarks;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Prediction;

public class AreaUnderCurveTests
{
    private static readonly ReferenceCase Bleeding = ReferenceCase.Read("Prediction/asah");
    private static readonly ReferenceCase Clustered = ReferenceCase.Read("Prediction/clustered_area");

    [Fact]
    public void Four_rows_by_hand()
    {
        // Events 3 and 1 (score), others 2 and 1: pairs 3>2, 3>1, 1<2, 1=1: (1 + 1 + 0 + 0.5)/4.
        // Placements of events 1 and 0.25; of others 0.5 and 0.75: variances 0.28125 and 0.03125, each over 2.
        AreaEstimate found = AreaUnderCurve.Estimate([true, true, false, false], [3, 1, 2, 1]);
        Close.Relative(0.625, found.Value, 1e-14);
        Close.Relative(Math.Sqrt(0.15625), found.StandardError, 1e-13);
    }

    [Theory]
    [InlineData("s100b")]
    [InlineData("wfns")]
    [InlineData("ndka")]
    public void The_three_markers_give_the_areas_and_intervals_of_the_reference_library(string marker)
    {
        AreaEstimate found = AreaUnderCurve.Estimate(Poor(), Bleeding.Column(marker));
        Close.Relative(Bleeding.Number("cases/auc/" + marker), found.Value, 1e-12);
        Close.Relative(Bleeding.Number($"cases/auc/{marker}_ci/0"), found.Interval.Lower, 1e-8);
        Close.Relative(Bleeding.Number($"cases/auc/{marker}_ci/2"), found.Interval.Upper, 1e-8);
        if (marker != "ndka")
            Close.Relative(Bleeding.Number($"cases/auc/{marker}_var"), found.StandardError * found.StandardError, 1e-8);
    }

    [Fact]
    public void Paired_differences_agree_with_DeLongs_test()
    {
        Estimate first = AreaUnderCurve.Difference(Poor(), Bleeding.Column("s100b"), Bleeding.Column("wfns"));
        Close.Relative(Bleeding.Number("cases/paired_delong/s100b_wfns_Z"), first.Statistic, 1e-8);
        Close.Relative(Bleeding.Number("cases/paired_delong/p"), first.PValue, 1e-8);
        Estimate second = AreaUnderCurve.Difference(Poor(), Bleeding.Column("s100b"), Bleeding.Column("ndka"));
        Close.Relative(Bleeding.Number("cases/paired_delong/s100b_ndka_Z"), second.Statistic, 1e-8);
    }

    [Fact]
    public void Clusters_give_Obuchowskis_variance()
    {
        bool[] events = [.. Clustered.Column("event").Select(v => v == 1)];
        AreaEstimate found = AreaUnderCurve.Estimate(events, Clustered.Column("score"), Clusters.From(Clustered.Text("cluster")));
        Close.Relative(Clustered.Number("area"), found.Value, 1e-12);
        Close.Relative(Clustered.Number("variance"), found.StandardError * found.StandardError, 1e-10);
    }

    [Fact]
    public void A_rising_transformation_changes_nothing_and_turning_the_score_mirrors_the_area()
    {
        double[] score = Bleeding.Column("s100b");
        AreaEstimate found = AreaUnderCurve.Estimate(Poor(), score);
        AreaEstimate logged = AreaUnderCurve.Estimate(Poor(), [.. score.Select(v => Math.Log(v + 1))]);
        AreaEstimate turned = AreaUnderCurve.Estimate(Poor(), [.. score.Select(v => -v)]);
        Assert.Equal(found, logged);
        Close.Relative(1 - found.Value, turned.Value, 1e-12);
        Close.Relative(found.StandardError, turned.StandardError, 1e-12);
        Assert.Equal(1, AreaUnderCurve.Difference(Poor(), score, score).PValue);
    }

    [Fact]
    public void The_cohorts_fitted_risks_give_the_area_of_the_reference_library()
    {
        PeerTable knees = Peers.Cohort.Knees;
        DesignMatrix x = DesignMatrix.WithIntercept(("av", knees["av"]), ("tfa", knees["tfa"]), ("lax", knees["lax"]), ("age", knees["age"]), ("female", knees["female"]));
        IReadOnlyList<double> risks = LogisticRegression.Fit(x, knees["any"]).FittedMeans;
        AreaEstimate found = AreaUnderCurve.Estimate([.. knees["any"].Select(v => v == 1)], risks);
        JsonElement expected = Peers.Estimates("auc_delong");
        Close.Relative(expected.GetProperty("auc").GetDouble(), found.Value, 1e-10);
        Close.Relative(expected.GetProperty("var").GetDouble(), found.StandardError * found.StandardError, 1e-8);
        Close.Relative(expected.GetProperty("ci95")[0].GetDouble(), found.Interval.Lower, 1e-8);
    }

    [Fact]
    public void Outcomes_of_one_kind_are_refused()
        => Assert.Contains("0 of 2 rows", Assert.Throws<TooFewDataError>(() => AreaUnderCurve.Estimate([false, false], [1, 2])).Message, StringComparison.Ordinal);

    private static bool[] Poor() => [.. Bleeding.Text("outcome").Select(o => o == "Poor")];
}
