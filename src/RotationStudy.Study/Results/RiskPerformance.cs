using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>How predicted risks compare with what happened: what figures of calibration, discrimination and net benefit draw.</summary>
/// <param name="Question">Question id.</param>
/// <param name="Model">Name of the model or score, such as "developed model" or a published score.</param>
/// <param name="Outcome">What is predicted, such as "a dislocation within 24 months".</param>
/// <param name="Sample">In whom it was judged, such as "site C, not used for development".</param>
/// <param name="Counts">How much the judgement rests on.</param>
/// <param name="Calibration">Predicted against observed.</param>
/// <param name="Discrimination">Telling those with the event from those without.</param>
/// <param name="Decision">Net benefit of acting on the prediction.</param>
/// <param name="Method">How all this was estimated, in words.</param>
public sealed record RiskPerformance(
    string Question, string Model, string Outcome, string Sample, AnalysisCounts Counts,
    RiskCalibration Calibration, RiskDiscrimination Discrimination, RiskDecision Decision, string Method);

/// <summary>A number with its 95% interval.</summary>
/// <param name="Value">Estimate.</param>
/// <param name="Lower">Lower end.</param>
/// <param name="Upper">Upper end.</param>
public sealed record NumberWithInterval(double Value, double Lower, double Upper);

/// <summary>Calibration. All risks and shares run from 0 to 1.</summary>
/// <param name="Groups">Groups of equal size by predicted risk, lowest first.</param>
/// <param name="Predicted">Grid of predicted risks of the smooth curve, increasing; empty where there is none.</param>
/// <param name="Observed">Share observed at each.</param>
/// <param name="Lower">Lower end of its pointwise 95% band.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="BinEdges">Edges of the histogram of predicted risks, increasing, one more than bins.</param>
/// <param name="WithEvent">Rows with the event per bin.</param>
/// <param name="WithoutEvent">Rows without it per bin.</param>
/// <param name="ObservedOverExpected">Events over the sum of predicted risks; 1 is right.</param>
/// <param name="Intercept">Calibration in the large, in log odds; 0 is right.</param>
/// <param name="Slope">Calibration slope; 1 is right, below 1 predictions are too extreme.</param>
public sealed record RiskCalibration(
    ImmutableArray<RiskGroup> Groups,
    ImmutableArray<double> Predicted, ImmutableArray<double> Observed, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    ImmutableArray<double> BinEdges, ImmutableArray<int> WithEvent, ImmutableArray<int> WithoutEvent,
    NumberWithInterval ObservedOverExpected, NumberWithInterval Intercept, NumberWithInterval Slope);

/// <summary>A group of rows by predicted risk.</summary>
/// <param name="Rows">Rows.</param>
/// <param name="Events">Rows with the event.</param>
/// <param name="Predicted">Mean predicted risk.</param>
/// <param name="Observed">Share with the event.</param>
/// <param name="Lower">Lower end of its 95% interval.</param>
/// <param name="Upper">Upper end.</param>
public sealed record RiskGroup(int Rows, int Events, double Predicted, double Observed, double Lower, double Upper);

/// <summary>The discrimination curve: each threshold's share of true and of false alarms, from (0, 0) to (1, 1).</summary>
/// <param name="Thresholds">Predicted risk from which on a row counts as an alarm, decreasing.</param>
/// <param name="FalseAlarms">Share of rows without the event that are above it.</param>
/// <param name="TrueAlarms">Share of rows with the event that are above it.</param>
/// <param name="Area">Area under the curve.</param>
/// <param name="CorrectedArea">The area corrected for optimism by bootstrap; null where the sample was not used for development.</param>
public sealed record RiskDiscrimination(
    ImmutableArray<double> Thresholds, ImmutableArray<double> FalseAlarms, ImmutableArray<double> TrueAlarms,
    NumberWithInterval Area, double? CorrectedArea);

/// <summary>Net benefit over thresholds, per row: true alarms less false alarms weighed by the odds of the threshold.</summary>
/// <param name="Thresholds">Risk above which one would act, increasing.</param>
/// <param name="NetBenefit">Acting on the prediction.</param>
/// <param name="Lower">Lower end of its 95% interval; empty where there is none.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="ActOnAll">Acting on everyone; acting on no one is 0.</param>
public sealed record RiskDecision(
    ImmutableArray<double> Thresholds, ImmutableArray<double> NetBenefit, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    ImmutableArray<double> ActOnAll);
