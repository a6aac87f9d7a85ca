namespace RotationStudy.Statistics.Multiplicity;

/// <summary>Benjamini and Hochberg's adjustment: the expected share of false among the rejected hypotheses.</summary>
/// <remarks>
/// Adjusted p of rank i (from 1) among m: the smallest of m p_(j) / j for j from i. Holds for independent or positively
/// dependent tests. It is a weaker promise than the family-wise rate and suits exploration.
/// <b>Source.</b> Benjamini Y, Hochberg Y, J R Stat Soc B 1995;57:289-300. <b>Checked against</b> Multiplicity/benjamini_hochberg_1995.
/// </remarks>
public static class BenjaminiHochberg
{
    /// <summary>Adjusted p values in the order given; an empty family gives none.</summary>
    /// <exception cref="InvalidInputError">A value outside 0 to 1.</exception>
    public static IReadOnlyList<double> Adjust(IReadOnlyList<double> pValues)
        => OrderedPValues.StepUp(pValues, rank => pValues.Count / (rank + 1.0));
}
