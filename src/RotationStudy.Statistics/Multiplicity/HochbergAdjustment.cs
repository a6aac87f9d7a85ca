namespace RotationStudy.Statistics.Multiplicity;

/// <summary>Hochberg's step-up adjustment: family-wise error rate for independent or positively dependent tests.</summary>
/// <remarks>
/// Adjusted p of rank i (from 1) among m: the smallest of (m - j + 1) p_(j) for j from i. Never larger than Holm's, but its
/// level is proved under Simes' inequality only (independence, positive dependence).
/// <b>Source.</b> Hochberg Y, Biometrika 1988;75:800-802. <b>Checked against</b> Multiplicity/benjamini_hochberg_1995.
/// </remarks>
public static class HochbergAdjustment
{
    /// <summary>Adjusted p values in the order given; an empty family gives none.</summary>
    /// <exception cref="InvalidInputError">A value outside 0 to 1.</exception>
    public static IReadOnlyList<double> Adjust(IReadOnlyList<double> pValues)
        => OrderedPValues.StepUp(pValues, rank => pValues.Count - rank);
}
