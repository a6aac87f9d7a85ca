using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>The exposures' estimates within each group of a measure, from one model with a product of exposure and group.</summary>
/// <param name="Measure">Measure that makes the groups.</param>
/// <param name="Label">Its name.</param>
/// <param name="Groups">Estimates per group.</param>
/// <param name="PValues">Per exposure, in the order of the question, the p value that the groups share one estimate; null where it could not be tested.</param>
/// <param name="Method">How it was fitted, in words.</param>
public sealed record SubgroupEstimates(
    string Measure, string Label, ImmutableArray<SubgroupEstimate> Groups, ImmutableArray<double?> PValues, string Method);

/// <summary>One group.</summary>
/// <param name="Group">Group.</param>
/// <param name="Counts">How much it rests on.</param>
/// <param name="Estimates">The exposures' estimates; empty where there are none.</param>
/// <param name="WhyNone">Why there are none; null where there are.</param>
public sealed record SubgroupEstimate(string Group, AnalysisCounts Counts, ImmutableArray<EstimateRow> Estimates, string? WhyNone);
