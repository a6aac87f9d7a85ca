namespace RotationStudy.Statistics.Multiplicity;

/// <summary>Holm's step-down adjustment: family-wise error rate under any dependence.</summary>
/// <remarks>
/// Adjusted p of rank i (from 1) among m: the largest of (m - j + 1) p_(j) for j up to i. Never worse than Bonferroni.
/// <b>Source.</b> Holm S, Scand J Stat 1979;6:65-70. <b>Checked against</b> Multiplicity/benjamini_hochberg_1995.
/// </remarks>
public static class HolmAdjustment
{
    /// <summary>Adjusted p values in the order given; an empty family gives none.</summary>
    /// <exception cref="InvalidInputError">A value outside 0 to 1.</exception>
    public static IReadOnlyList<double> Adjust(IReadOnlyList<double> pValues)
        => OrderedPValues.StepDown(pValues, rank => pValues.Count - rank);
}
