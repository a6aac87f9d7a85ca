using RotationStudy.Statistics.Descriptive;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Whether the means of several independent groups are all equal.</summary>
/// <remarks>
/// <para><b>Classical</b>: between over within mean square, F on k - 1 and n - k degrees of freedom; assumes equal
/// variances. <b>Welch</b>: groups weighted by n/s^2, with approximate denominator degrees of freedom; the default
/// choice where variances may differ.</para>
/// <para><b>Edges</b>: fewer than two groups, an empty group, no variation within: refused. Welch needs two values and
/// a variance above zero in every group.</para>
/// <para><b>Sources</b>: Fisher RA. Statistical Methods for Research Workers. 1925; Welch BL. Biometrika 1951;38:330-336.</para>
/// <para><b>Checked against</b>: GroupComparison/classics.</para>
/// </remarks>
public static class AnalysisOfVariance
{
    /// <summary>One-way analysis of variance with equal variances.</summary>
    /// <exception cref="TooFewDataError">Too few groups or values, or no variation within groups.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static TestResult Classical(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        double[][] values = Checked(groups, 1);
        int n = values.Sum(g => g.Length);
        int k = values.Length;
        double grand = values.Sum(g => g.Sum()) / n;
        double between = 0;
        double within = 0;
        foreach (double[] group in values)
        {
            (double mean, double variance) = Summary.MeanAndVariance(group);
            between += group.Length * (mean - grand) * (mean - grand);
            within += group.Length > 1 ? variance * (group.Length - 1) : 0;
        }
        if (n <= k || !(within > 0))
            throw new TooFewDataError("there is no variation within the groups", "Report the group means as they are.");
        return TestResult.F("analysis of variance F", between / (k - 1) / (within / (n - k)), k - 1, n - k);
    }

    /// <summary>One-way test of equal means with unequal variances.</summary>
    /// <exception cref="TooFewDataError">Too few groups, a group of fewer than two values or without variation.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static TestResult Welch(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        double[][] values = Checked(groups, 2);
        int k = values.Length;
        double[] weight = new double[k];
        double[] mean = new double[k];
        for (int g = 0; g < k; g++)
        {
            (mean[g], double variance) = Summary.MeanAndVariance(values[g]);
            if (!(variance > 0))
                throw new TooFewDataError($"group {g + 1} does not vary", "Welch's test needs a variance in every group.");
            weight[g] = values[g].Length / variance;
        }
        double total = weight.Sum();
        double center = 0;
        for (int g = 0; g < k; g++)
            center += weight[g] * mean[g] / total;
        double between = 0;
        double correction = 0;
        for (int g = 0; g < k; g++)
        {
            between += weight[g] * (mean[g] - center) * (mean[g] - center) / (k - 1);
            correction += (1 - (weight[g] / total)) * (1 - (weight[g] / total)) / (values[g].Length - 1) / ((k * (double)k) - 1);
        }
        return TestResult.F("Welch F", between / (1 + (2 * (k - 2) * correction)), k - 1, 1 / (3 * correction));
    }

    private static double[][] Checked(IReadOnlyList<IReadOnlyList<double>> groups, int atLeast)
    {
        if (groups.Count < 2)
            throw new TooFewDataError($"{groups.Count} group cannot be compared", "Give two groups or more.");
        double[][] values = new double[groups.Count][];
        for (int g = 0; g < values.Length; g++)
        {
            values[g] = [.. groups[g]];
            Require.Finite(values[g], $"group {g + 1}");
            if (values[g].Length < atLeast)
                throw new TooFewDataError(
                    $"group {g + 1} has {values[g].Length} values where {atLeast} are needed",
                    "Leave the group out, or join it with another.");
        }
        return values;
    }
}
