using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>The exposures' estimates beside those corrected for error of measurement.</summary>
/// <param name="Errors">The errors that were corrected for.</param>
/// <param name="Approaches">As planned first, then corrected for the error as found, then for the ends of its 95% interval; the planned one alone where no correction could be given.</param>
/// <param name="Sentence">What the comparison says, or why there is none.</param>
/// <param name="Method">How it was corrected, in words.</param>
/// <param name="Assumptions">What the correction takes for granted.</param>
public sealed record MeasurementErrorComparison(
    ImmutableArray<MeasurementErrorFacts> Errors, ImmutableArray<MeasurementErrorApproach> Approaches,
    string Sentence, string Method, ImmutableArray<string> Assumptions);

/// <summary>The error of a term.</summary>
/// <param name="Measure">Measure id.</param>
/// <param name="Label">What it measures.</param>
/// <param name="Unit">Unit of the error.</param>
/// <param name="Error">Standard deviation of the error of one value as it enters the model.</param>
/// <param name="ErrorLower">Lower end of its 95% interval.</param>
/// <param name="ErrorUpper">Upper end.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of its square.</param>
/// <param name="Reliability">Share of the variance in these rows that is no error.</param>
/// <param name="ConditionalReliability">The same given the other terms of the model: what a single coefficient is divided by.</param>
/// <param name="From">Where the error comes from, in words.</param>
public sealed record MeasurementErrorFacts(
    string Measure, string Label, string? Unit, double Error, double ErrorLower, double ErrorUpper, double DegreesOfFreedom,
    double Reliability, double ConditionalReliability, string From);

/// <summary>The exposures' estimates under one size of the error.</summary>
/// <param name="Name">What was assumed.</param>
/// <param name="Estimates">Estimates of the exposures; empty where this size of error leaves nothing to calibrate to.</param>
public sealed record MeasurementErrorApproach(string Name, ImmutableArray<EstimateRow> Estimates);
