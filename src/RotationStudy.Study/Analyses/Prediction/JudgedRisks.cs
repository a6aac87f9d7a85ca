using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>Predicted risks of a sample that are to be judged.</summary>
/// <param name="Id">Id of the model or score.</param>
/// <param name="Model">Its title.</param>
/// <param name="Outcome">The outcome in words.</param>
/// <param name="Sample">The sample in words.</param>
/// <param name="Counts">How much it rests on.</param>
/// <param name="Risks">Predicted risks and what happened.</param>
/// <param name="Thresholds">Risks at which net benefit is given.</param>
internal sealed record JudgedSample(
    string Id, string Model, string Outcome, string Sample, AnalysisCounts Counts, PredictedRisks Risks, ImmutableArray<double> Thresholds);

/// <summary>What judging a sample gives.</summary>
/// <param name="Risk">What figures draw.</param>
/// <param name="Performance">Measures of performance.</param>
/// <param name="Decision">Net benefit by threshold.</param>
internal sealed record Judgement(RiskPerformance Risk, ImmutableArray<PerformanceRow> Performance, ImmutableArray<NetBenefitRow> Decision);

/// <summary>Discrimination, calibration, Brier score and net benefit of predicted risks, with intervals that let rows of a person depend.</summary>
internal static class JudgedRisks
{
    internal const string Area = "Area under the curve";
    internal const string Intercept = "Calibration in the large (log odds)";
    internal const string Slope = "Calibration slope";
    internal const string Brier = "Brier score";
    private const string Observed = "Observed over expected";
    private const string Scaled = "Brier score, scaled";
    private const int Bins = 20;

    /// <summary>Names of the measures that are corrected for optimism.</summary>
    internal static ImmutableArray<string> Corrected { get; } = [Area, Intercept, Slope, Brier];

    /// <summary>Area, intercept, slope and Brier score, the quick way: for resamples, whose intervals nobody reads.</summary>
    /// <exception cref="StatisticsError">The risks cannot be judged.</exception>
    internal static ImmutableArray<double> Quick(IReadOnlyList<bool> outcome, IReadOnlyList<double> risk)
    {
        PredictedRisks risks = PredictedRisks.From(outcome, risk);
        CalibrationEstimate calibration = Calibration.Estimate(risks);
        return [AreaUnderCurve.Estimate(outcome, risk).Value, calibration.Intercept.Value, calibration.Slope.Value, BrierScore.Estimate(risks).Score.Value];
    }

    /// <exception cref="StatisticsError">The risks cannot be judged.</exception>
    internal static Judgement Of(JudgedSample sample, CorrectedPerformance? corrected)
    {
        PredictedRisks risks = sample.Risks;
        bool[] outcome = risks.Outcome.ToArray();
        double[] risk = risks.Risk.ToArray();
        CalibrationEstimate calibration = Calibration.Estimate(risks);
        Estimate ratio = Calibration.LogObservedOverExpected(risks);
        AreaEstimate area = AreaUnderCurve.Estimate(outcome, risk, risks.Clusters);
        BrierEstimate brier = BrierScore.Estimate(risks);
        IReadOnlyList<NetBenefit> curve = DecisionCurve.Estimate(risks, sample.Thresholds);
        NumberWithInterval observed = new(calibration.ObservedOverExpected, Math.Exp(ratio.Interval.Lower), Math.Exp(ratio.Interval.Upper));
        NumberWithInterval auc = new(area.Value, area.Interval.Lower, area.Interval.Upper);
        return new Judgement(
            new RiskPerformance(
                sample.Id, sample.Model, sample.Outcome, sample.Sample, sample.Counts,
                CalibrationOf(risks, outcome, risk, observed, calibration),
                DiscriminationOf(risks, auc, corrected?[Area].Corrected),
                new RiskDecision(
                    sample.Thresholds, [.. curve.Select(c => c.Model.Value)], [.. curve.Select(c => c.Model.Interval.Lower)],
                    [.. curve.Select(c => c.Model.Interval.Upper)], [.. curve.Select(c => c.ActOnAll)]),
                "Area: Obuchowski 1997. Calibration: logistic regression on the predicted log odds, with a spline of three knots for the curve; variance by participant."),
            [
                Row(sample, Area, auc, corrected?[Area]),
                Row(sample, Observed, observed, null),
                Row(sample, Intercept, Interval(calibration.Intercept), corrected?[Intercept]),
                Row(sample, Slope, Interval(calibration.Slope), corrected?[Slope]),
                Row(sample, Brier, Interval(brier.Score), corrected?[Brier]),
                new PerformanceRow(sample.Sample, Scaled, brier.Scaled, null, null, null, null),
            ],
            [.. curve.Select(c => new NetBenefitRow(sample.Sample, c.Threshold, c.Model.Value, c.Model.Interval.Lower, c.Model.Interval.Upper, c.ActOnAll))]);
    }

    private static NumberWithInterval Interval(Estimate e) => new(e.Value, e.Interval.Lower, e.Interval.Upper);

    private static PerformanceRow Row(JudgedSample sample, string measure, NumberWithInterval value, CorrectedMeasure? corrected)
        => new(sample.Sample, measure, value.Value, value.Lower, value.Upper, corrected?.Optimism, corrected is null ? null : value.Value - corrected.Optimism);

    private static RiskCalibration CalibrationOf(PredictedRisks risks, bool[] outcome, double[] risk, NumberWithInterval observed, CalibrationEstimate calibration)
    {
        IReadOnlyList<CalibrationPoint> curve = CalibrationCurve.Smooth(risks);
        int[] with = new int[Bins];
        int[] without = new int[Bins];
        for (int i = 0; i < risk.Length; i++)
            (outcome[i] ? with : without)[Math.Min(Bins - 1, (int)(risk[i] * Bins))]++;
        return new RiskCalibration(
            [.. CalibrationCurve.Grouped(risks).Select(g => new RiskGroup(g.Rows, g.Events, g.Predicted, (double)g.Events / g.Rows, g.Interval.Lower, g.Interval.Upper))],
            [.. curve.Select(p => p.Predicted)], [.. curve.Select(p => p.Observed)], [.. curve.Select(p => p.Interval.Lower)], [.. curve.Select(p => p.Interval.Upper)],
            [.. Enumerable.Range(0, Bins + 1).Select(b => (double)b / Bins)], [.. with], [.. without],
            observed, Interval(calibration.Intercept), Interval(calibration.Slope));
    }

    private static RiskDiscrimination DiscriminationOf(PredictedRisks risks, NumberWithInterval area, double? corrected)
    {
        // Results hold finite numbers: the point above all risks stands at a threshold of one.
        IReadOnlyList<OperatingPoint> points = OperatingCurve.Of(risks);
        return new RiskDiscrimination(
            [.. points.Select(p => Math.Min(1, p.Threshold))], [.. points.Select(p => p.FalseAlarms)], [.. points.Select(p => p.TrueAlarms)], area, corrected);
    }
}
