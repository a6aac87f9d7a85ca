using RotationStudy.Statistics.Descriptive;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Difference of two means with its t test.</summary>
/// <param name="Difference">First minus second mean, with interval and p value, in the unit of the data.</param>
/// <param name="Test">The t test: statistic, degrees of freedom, p value.</param>
/// <remarks>
/// <para><b>Welch</b>: independent groups of unequal variances; standard error root of s1^2/n1 + s2^2/n2, degrees of
/// freedom by Satterthwaite's formula. Equal variances are never assumed. <b>Paired</b>: mean of the differences within
/// pairs, n - 1 degrees of freedom.</para>
/// <para><b>Assumptions</b>: independent rows (Welch) or pairs (paired), means that are near normal. Rows of one person
/// in the same group need a regression with clusters.</para>
/// <para><b>Edges</b>: fewer than two values in a group, or no variation at all, is refused: there is no standard error.</para>
/// <para><b>Sources</b>: Student. Biometrika 1908;6:1-25; Welch BL. Biometrika 1947;34:28-35.</para>
/// <para><b>Checked against</b>: GroupComparison/classics (sleep data of Student 1908).</para>
/// </remarks>
public sealed record MeanDifference(Estimate Difference, TestResult Test)
{
    /// <summary>Welch's test for two independent groups.</summary>
    /// <exception cref="TooFewDataError">Fewer than two values in a group, or no variation in either.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static MeanDifference Welch(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        double level = ConfidenceInterval.DefaultLevel)
    {
        (double mean1, double variance1) = Moments(first, "first group");
        (double mean2, double variance2) = Moments(second, "second group");
        double a = variance1 / first.Count;
        double b = variance2 / second.Count;
        RequireVariation(a + b);
        double df = (a + b) * (a + b) / ((a * a / (first.Count - 1)) + (b * b / (second.Count - 1)));
        return From("Welch t", mean1 - mean2, Math.Sqrt(a + b), df, level);
    }

    /// <summary>Paired test: the same persons, or matched ones, in the same order in both lists.</summary>
    /// <exception cref="TooFewDataError">Fewer than two pairs, or differences that are all the same.</exception>
    /// <exception cref="InvalidInputError">Lists of unequal length, or a value that is no number.</exception>
    public static MeanDifference Paired(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        double level = ConfidenceInterval.DefaultLevel)
    {
        if (first.Count != second.Count)
            throw new InvalidInputError($"{first.Count} values cannot be paired with {second.Count}", "Give both members of every pair.");
        double[] differences = new double[first.Count];
        for (int i = 0; i < differences.Length; i++)
            differences[i] = first[i] - second[i];
        (double mean, double variance) = Moments(differences, "differences");
        RequireVariation(variance);
        return From("paired t", mean, Math.Sqrt(variance / differences.Length), differences.Length - 1, level);
    }

    private static MeanDifference From(string name, double difference, double error, double df, double level)
    {
        Require.Probability(level, "level");
        Estimate estimate = Estimate.Wald("difference of means", difference, error, df, level);
        return new MeanDifference(estimate, new TestResult(name, estimate.Statistic, df, double.PositiveInfinity, estimate.PValue));
    }

    private static (double Mean, double Variance) Moments(IReadOnlyList<double> values, string name)
    {
        double[] copy = [.. values];
        Require.Finite(copy, name);
        if (copy.Length < 2)
            throw new TooFewDataError($"the {name} of {copy.Length} has no variance", "A t test needs two values or more in each group.");
        return Summary.MeanAndVariance(copy);
    }

    private static void RequireVariation(double variance)
    {
        if (!(variance > 0))
            throw new TooFewDataError(
                "the values do not vary, so a difference of means has no standard error",
                "Report the two values as they are.");
    }
}
