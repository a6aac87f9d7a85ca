using RotationStudy.Statistics.Descriptive;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>
/// How far two groups differ in units of their spread, for a baseline table: no p value, no dependence on sample size.
/// </summary>
/// <param name="Value">Standardised difference, first minus second group; for three categories or more a distance, zero
/// or more.</param>
/// <param name="Interval">Large-sample interval; for a distance its lower bound is cut at zero.</param>
/// <remarks>
/// <para><b>Continuous</b>: difference of means over the root of the mean of the two variances. <b>Binary</b>:
/// difference of shares over the root of the mean of p(1-p). <b>Categories</b>: Mahalanobis distance of the shares of
/// all categories but one, with the mean of the two multinomial covariances; for two categories its absolute value is
/// the binary one. Common practice calls under 0.1 negligible.</para>
/// <para><b>Interval</b>: value plus or minus z times the root of (n1 + n2) / (n1 n2) + d^2 / (2 (n1 + n2)). It treats
/// rows as independent and is rough for categories.</para>
/// <para><b>Edges</b>: no spread in either group: zero if the groups agree, refused if they differ. Categories that
/// occur in neither group are left out.</para>
/// <para><b>Sources</b>: Yang D, Dalton JE. SAS Global Forum 2012, paper 335; Austin PC. Stat Med 2009;28:3083-3107;
/// Hedges LV, Olkin I. Statistical Methods for Meta-Analysis. 1985 (interval). <b>Checked against</b>:
/// GroupComparison/classics.</para>
/// </remarks>
public sealed record StandardizedDifference(double Value, ConfidenceInterval Interval)
{
    /// <summary>A continuous quantity in two groups.</summary>
    /// <exception cref="TooFewDataError">Fewer than two values in a group, or no spread where the means differ.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static StandardizedDifference Continuous(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        double level = ConfidenceInterval.DefaultLevel)
    {
        double[] x = [.. first];
        double[] y = [.. second];
        Require.Finite(x, "first group");
        Require.Finite(y, "second group");
        if (x.Length < 2 || y.Length < 2)
            throw new TooFewDataError("a group of fewer than two values has no spread", "Report the values as they are.");
        (double mean1, double variance1) = Summary.MeanAndVariance(x);
        (double mean2, double variance2) = Summary.MeanAndVariance(y);
        return From(Ratio(mean1 - mean2, (variance1 + variance2) / 2), x.Length, y.Length, level);
    }

    /// <summary>A yes-or-no property: counts of yes and totals in two groups.</summary>
    /// <exception cref="InvalidInputError">A count outside 0 to its total.</exception>
    /// <exception cref="TooFewDataError">An empty group, or all against none.</exception>
    public static StandardizedDifference Binary(
        int firstCount,
        int firstTotal,
        int secondCount,
        int secondTotal,
        double level = ConfidenceInterval.DefaultLevel)
    {
        double p = Proportion.Wilson(firstCount, firstTotal).Value;
        double q = Proportion.Wilson(secondCount, secondTotal).Value;
        return From(Ratio(p - q, ((p * (1 - p)) + (q * (1 - q))) / 2), firstTotal, secondTotal, level);
    }

    /// <summary>A quantity of several categories: counts per category, in the same order, in two groups.</summary>
    /// <exception cref="InvalidInputError">Lists of unequal length, or a negative count.</exception>
    /// <exception cref="TooFewDataError">An empty group, or groups that share no category and do not vary.</exception>
    public static StandardizedDifference Categories(
        IReadOnlyList<int> first,
        IReadOnlyList<int> second,
        double level = ConfidenceInterval.DefaultLevel)
    {
        if (first.Count != second.Count || first.Concat(second).Any(c => c < 0))
            throw new InvalidInputError(
                "the counts are not of the same categories, or one is negative",
                "Give a count of zero or more for every category in both groups.");
        int n = first.Sum();
        int m = second.Sum();
        if (n == 0 || m == 0)
            throw new TooFewDataError("an empty group cannot be compared", "Give counts in both groups.");
        int[] kept = [.. Enumerable.Range(0, first.Count).Where(k => first[k] + second[k] > 0).Skip(1)];
        double[] p = [.. kept.Select(k => (double)first[k] / n)];
        double[] q = [.. kept.Select(k => (double)second[k] / m)];
        StandardizedDifference distance = From(Distance(p, q), n, m, level);
        return distance with { Interval = distance.Interval with { Lower = Math.Max(0, distance.Interval.Lower) } };
    }

    private static double Distance(double[] p, double[] q)
    {
        int k = p.Length;
        double[] difference = [.. p.Zip(q, (a, b) => a - b)];
        if (Array.TrueForAll(difference, d => d == 0))
            return 0;
        double[] covariance = new double[k * k];
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j < k; j++)
                covariance[(i * k) + j] = ((i == j ? p[i] + q[i] : 0) - (p[i] * p[j]) - (q[i] * q[j])) / 2;
        }
        try
        {
            double[] solved = SmallCholesky.Factor(covariance, k, [.. Enumerable.Range(1, k).Select(i => $"category {i}")]).Solve(difference);
            return Math.Sqrt(CrossProduct.Dot(difference, solved));
        }
        catch (RankDeficientError)
        {
            throw NoSpread();
        }
    }

    private static double Ratio(double difference, double variance)
        => difference == 0 ? 0 : variance > 0 ? difference / Math.Sqrt(variance) : throw NoSpread();

    private static TooFewDataError NoSpread()
        => new("the groups differ but do not vary, so the difference has no unit", "Report the two groups as they are.");

    private static StandardizedDifference From(double d, int n, int m, double level)
    {
        Require.Probability(level, "level");
        double total = (double)n + m;
        double half = StandardNormal.Quantile(0.5 + (level / 2)) * Math.Sqrt((total / n / m) + (d * d / (2 * total)));
        return new StandardizedDifference(d, new ConfidenceInterval(d - half, d + half, level));
    }
}
