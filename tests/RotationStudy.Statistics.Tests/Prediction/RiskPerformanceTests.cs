using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Prediction;

public class RiskPerformanceTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Prediction/calibration");

    private static PredictedRisks Risks => PredictedRisks.From([.. Case.Column("event").Select(v => v == 1)], Case.Column("risk"), Clusters.From(Case.Text("cluster")));

    [Fact]
    public void Calibration_agrees_with_glm_and_sandwich()
    {
        CalibrationEstimate found = Calibration.Estimate(Risks, variance: ClusterVariance.CR1);
        Close.Relative(Case.Number("intercept"), found.Intercept.Value, 1e-8);
        Close.Relative(Case.Number("intercept_se"), found.Intercept.StandardError, 1e-8);
        Close.Relative(Case.Number("slope"), found.Slope.Value, 1e-8);
        Close.Relative(Case.Number("slope_se"), found.Slope.StandardError, 1e-8);
    }

    [Fact]
    public void Brier_score_agrees_and_is_scaled_by_the_overall_risk()
    {
        BrierEstimate found = BrierScore.Estimate(Risks);
        Close.Relative(Case.Number("brier"), found.Score.Value, 1e-12);
        BrierEstimate flat = BrierScore.Estimate(PredictedRisks.From([true, false, false, false], [0.25, 0.25, 0.25, 0.25]));
        Close.Relative(0.1875, flat.Score.Value, 1e-14);
        Assert.Equal(0, flat.Scaled, 12);
        // Squared differences 9/16 and three of 1/16, mean 3/16: root(4/3 * (36 + 3*4)/256)/4.
        Close.Relative(Math.Sqrt(4.0 / 3 * 48 / 256) / 4, flat.Score.StandardError, 1e-12);
    }

    [Fact]
    public void Net_benefit_by_hand()
    {
        // Threshold 0.2: above are two events and one other of five rows; 2/5 - 1/5 * 0.25 = 0.35. All: 2/5 - 3/5 * 0.25.
        NetBenefit found = DecisionCurve.Estimate(PredictedRisks.From([true, true, false, false, false], [0.9, 0.2, 0.3, 0.1, 0.05]), [0.2])[0];
        Close.Relative(0.35, found.Model.Value, 1e-13);
        Close.Relative(0.25, found.ActOnAll, 1e-13);
        Assert.Equal(0, found.ActOnNone);
    }

    [Fact]
    public void A_row_entered_twice_in_its_cluster_leaves_the_error_as_it_was()
    {
        PredictedRisks once = PredictedRisks.From([true, false, true, false], [0.7, 0.2, 0.4, 0.5]);
        PredictedRisks twice = PredictedRisks.From(
            [true, false, true, false, true, false, true, false],
            [0.7, 0.2, 0.4, 0.5, 0.7, 0.2, 0.4, 0.5],
            Clusters.From([1, 2, 3, 4, 1, 2, 3, 4]));
        Close.Relative(BrierScore.Estimate(once).Score.StandardError, BrierScore.Estimate(twice).Score.StandardError, 1e-12);
    }

    [Fact]
    public void Certain_risks_separation_and_equal_risks_are_refused()
    {
        Assert.Contains("no log odds", Assert.Throws<InvalidInputError>(() => Calibration.Estimate(PredictedRisks.From([true, false], [1, 0.5]))).Message, StringComparison.Ordinal);
        Assert.Throws<SeparationError>(() => Calibration.Estimate(PredictedRisks.From([false, false, true, true], [0.3, 0.4, 0.6, 0.7])));
        Assert.Throws<RankDeficientError>(() => Calibration.Estimate(PredictedRisks.From([false, true, false], [0.3, 0.3, 0.3])));
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => PredictedRisks.From([false, true], [0.3, 1.3])).Row);
    }
}
