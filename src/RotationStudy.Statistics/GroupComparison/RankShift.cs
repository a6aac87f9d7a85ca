using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.GroupComparison;

/// <summary>A rank test of two samples with the shift that it estimates.</summary>
/// <param name="Test">The test; its statistic is U of the first group, or the sum of the ranks of positive differences.</param>
/// <param name="Shift">Hodges and Lehmann's estimate: the median of all pairwise differences (or of all means of two
/// differences), in the unit of the data.</param>
/// <param name="Interval">Interval of the shift from the order statistics of the same pairs.</param>
/// <param name="Superiority">Probability that a value of the first group exceeds one of the second, ties counting half;
/// for pairs the rank-biserial share of positive rank sum.</param>
/// <param name="Exact">Whether p value and interval come from the exact distribution.</param>
/// <remarks>
/// <para><b>Exact</b> when there are no ties (for pairs also no zero differences) and fewer than 50 values in each
/// group (pairs); else the normal approximation with the variance corrected for ties, and a continuity correction of
/// one half in the p value. The interval inverts the same test; with the normal approximation its ranks are rounded
/// outwards and no continuity correction is made.</para>
/// <para><b>Meaning</b>: the test is of equal distributions (symmetry about zero for pairs); it is a test of medians
/// only if the groups differ by a shift alone.</para>
/// <para><b>Edges</b>: zero differences are left out (Wilcoxon's way) and counted in no rank; if nothing varies the
/// test is refused.</para>
/// <para><b>Sources</b>: Wilcoxon F. Biometrics Bull 1945;1:80-83; Mann HB, Whitney DR. Ann Math Stat 1947;18:50-60;
/// Hodges JL, Lehmann EL. Ann Math Stat 1963;34:598-611; Hollander M, Wolfe DA. Nonparametric Statistical Methods.
/// 1973.</para>
/// <para><b>Checked against</b>: GroupComparison/classics.</para>
/// </remarks>
public sealed record RankShift(TestResult Test, double Shift, ConfidenceInterval Interval, double Superiority, bool Exact)
{
    /// <summary>Groups (or pairs) under this size are compared exactly when there are no ties.</summary>
    public const int ExactBelow = 50;

    /// <summary>Wilcoxon-Mann-Whitney test of two independent groups.</summary>
    /// <exception cref="TooFewDataError">An empty group, or values that are all the same.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static RankShift MannWhitney(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        double[] x = Descriptive.Quantile.Sorted(first, "first group");
        double[] y = Descriptive.Quantile.Sorted(second, "second group");
        if (x.Length == 0 || y.Length == 0)
            throw new TooFewDataError("an empty group cannot be compared", "Give at least one value in each group.");
        double m = x.Length;
        double n = y.Length;
        Ranks ranks = Ranks.Of([.. x, .. y]);
        double u = -m * (m + 1) / 2;
        for (int i = 0; i < x.Length; i++)
            u += ranks.Values[i];
        double variance = m * n / 12 * (m + n + 1 - (ranks.TieSum / ((m + n) * (m + n - 1))));
        bool exact = ranks.TieSum == 0 && x.Length < ExactBelow && y.Length < ExactBelow;
        RankSumDistribution? distribution = exact ? RankSumDistribution.MannWhitney(x.Length, y.Length) : null;
        return Assemble("Wilcoxon-Mann-Whitney", u, (long)(m * n), variance, distribution, k => PairOrderStatistic.Difference(x, y, k), level);
    }

    /// <summary>Wilcoxon's signed-rank test of pairs: first minus second member.</summary>
    /// <exception cref="TooFewDataError">No pair that differs.</exception>
    /// <exception cref="InvalidInputError">Lists of unequal length, or a value that is no number.</exception>
    public static RankShift SignedRank(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        if (first.Count != second.Count)
            throw new InvalidInputError($"{first.Count} values cannot be paired with {second.Count}", "Give both members of every pair.");
        double[] all = [.. first.Select((v, i) => v - second[i])];
        Require.Finite(all, "differences");
        double[] differences = [.. all.Where(d => d != 0)];
        if (differences.Length == 0)
            throw new TooFewDataError("no pair differs", "Report that all pairs are equal.");
        Array.Sort(differences);
        Ranks ranks = Ranks.Of([.. differences.Select(Math.Abs)]);
        double n = differences.Length;
        double v = 0;
        for (int i = 0; i < differences.Length; i++)
            v += differences[i] > 0 ? ranks.Values[i] : 0;
        double variance = (n * (n + 1) * ((2 * n) + 1) / 24) - (ranks.TieSum / 48);
        bool exact = ranks.TieSum == 0 && differences.Length == all.Length && differences.Length < ExactBelow;
        RankSumDistribution? distribution = exact ? RankSumDistribution.SignedRank(differences.Length) : null;
        return Assemble("Wilcoxon signed rank", v, (long)(n * (n + 1) / 2), variance, distribution, k => PairOrderStatistic.Mean(differences, k), level);
    }

    private static RankShift Assemble(
        string name, double statistic, long pairs, double variance, RankSumDistribution? distribution, Func<long, double> pair, double level)
    {
        if (!(variance > 0))
            throw new TooFewDataError("all values are the same, so they have no ranks", "Report that the groups do not differ.");
        double tail = (1 - level) / 2;
        double away = statistic - (pairs / 2.0);
        double p;
        long below;
        if (distribution is not null)
        {
            p = distribution.TwoSidedPValue((int)statistic);
            below = distribution.Quantile(tail);
        }
        else
        {
            double z = (Math.Abs(away) - 0.5) / Math.Sqrt(variance);
            p = z <= 0 ? 1 : StandardNormal.TwoSidedPValue(z);
            below = (long)Math.Floor((pairs / 2.0) + (StandardNormal.Quantile(tail) * Math.Sqrt(variance)));
        }
        // With too few pairs for the level no interval is finite.
        ConfidenceInterval interval = below < 1
            ? new ConfidenceInterval(double.NegativeInfinity, double.PositiveInfinity, level)
            : new ConfidenceInterval(pair(below), pair(pairs - below + 1), level);
        double shift = (pair((pairs + 1) / 2) + pair((pairs / 2) + 1)) / 2;
        string method = distribution is null ? "normal approximation" : "exact";
        TestResult test = new($"{name}, {method}", statistic, double.NaN, double.PositiveInfinity, p);
        return new RankShift(test, shift, interval, statistic / pairs, distribution is not null);
    }
}
