using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Turns coefficients into rows of the report, on the scale a reader expects.</summary>
internal static class EstimateRows
{
    /// <summary>Differences in the outcome's unit.</summary>
    internal static ImmutableArray<EstimateRow> Differences(Coefficients coefficients, ModelTerms terms, string? unit)
        => [.. terms.Terms.Select(t => Row(coefficients.Estimate(t.Name), t, "difference", unit, 0, v => v, coefficients.VarianceMethod))];

    /// <summary>Ratios: exponentials of the coefficients.</summary>
    internal static ImmutableArray<EstimateRow> Ratios(Coefficients coefficients, ModelTerms terms, string scale)
        => [.. terms.Terms.Select(t => Row(coefficients.Estimate(t.Name), t, t.Role == "interaction" ? "ratio of " + scale + "s" : scale, null, 1, Math.Exp, coefficients.VarianceMethod))];

    /// <summary>Ratios of the exposures and interactions only, for the comparison beside the main estimate.</summary>
    internal static ImmutableArray<EstimateRow> ExposureRatios(Coefficients coefficients, ModelTerms terms, string scale)
        => [.. Ratios(coefficients, terms, scale).Where(r => r.Role != "adjustment")];

    internal static EstimateRow Row(
        Estimate estimate, ModelTerm term, string scale, string? unit, double noEffect, Func<double, double> map, string method)
        => new(
            term.Name, term.Label, term.Role, scale, unit,
            map(estimate.Value), map(estimate.Interval.Lower), map(estimate.Interval.Upper), estimate.PValue,
            estimate.Value,
            double.IsNaN(estimate.StandardError) ? null : estimate.StandardError,
            double.IsInfinity(estimate.DegreesOfFreedom) ? null : estimate.DegreesOfFreedom,
            method,
            noEffect);
}
