using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Prediction;

public class CalibrationCurveTests
{
    [Fact]
    public void Groups_hold_all_rows_and_tear_no_tie_apart()
    {
        PredictedRisks risks = PredictedRisks.From([false, false, true, false, true, true], [0.1, 0.2, 0.2, 0.2, 0.6, 0.9]);
        IReadOnlyList<CalibrationGroup> groups = CalibrationCurve.Grouped(risks, 3);
        Assert.Equal([4, 2], groups.Select(g => g.Rows));
        Assert.Equal([1, 2], groups.Select(g => g.Events));
        Close.Relative(0.175, groups[0].Predicted, 1e-12);
        Close.Relative(0.75, groups[1].Predicted, 1e-12);
    }

    [Fact]
    public void A_right_model_has_a_curve_near_the_diagonal_and_too_few_risks_have_none()
    {
        RandomStream random = new(2, "calibration curve");
        double[] risk = [.. Enumerable.Range(0, 4000).Select(_ => 0.05 + (0.9 * random.Uniform()))];
        bool[] outcome = [.. risk.Select(random.Bernoulli)];
        IReadOnlyList<CalibrationPoint> curve = CalibrationCurve.Smooth(PredictedRisks.From(outcome, risk));
        Assert.Equal(50, curve.Count);
        Assert.All(curve, p => Assert.InRange(p.Observed, p.Predicted - 0.06, p.Predicted + 0.06));
        Assert.Empty(CalibrationCurve.Smooth(PredictedRisks.From([true, false, true, false], [0.2, 0.2, 0.4, 0.4])));
    }

    [Fact]
    public void The_operating_curve_holds_the_area()
    {
        bool[] outcome = [true, true, false, false];
        double[] score = [0.3, 0.1, 0.2, 0.1];
        IReadOnlyList<OperatingPoint> points = OperatingCurve.Of(PredictedRisks.From(outcome, score));
        double area = points.Zip(points.Skip(1), (a, b) => (b.FalseAlarms - a.FalseAlarms) * (a.TrueAlarms + b.TrueAlarms) / 2).Sum();
        Close.Relative(AreaUnderCurve.Estimate(outcome, score).Value, area, 1e-14);
        Assert.Equal((1.0, 1.0), (points[^1].FalseAlarms, points[^1].TrueAlarms));
    }
}
