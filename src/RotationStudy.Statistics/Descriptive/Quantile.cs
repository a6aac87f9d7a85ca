namespace RotationStudy.Statistics.Descriptive;

/// <summary>Sample quantiles by linear interpolation between order statistics.</summary>
/// <remarks>
/// <para><b>Convention</b>: type 7 of Hyndman and Fan: with h = (n - 1) p + 1 the quantile is x(floor h) + (h - floor
/// h) (x(floor h + 1) - x(floor h)). Other types differ by up to one spacing of the data; their median is the
/// same.</para>
/// <para><b>Sources</b>: Hyndman RJ, Fan Y. Am Stat 1996;50:361-365.</para>
/// </remarks>
public static class Quantile
{
    /// <summary>The value below which a share p of the sample lies.</summary>
    /// <param name="values">The sample, in any order.</param>
    /// <param name="p">Share, 0 to 1.</param>
    /// <exception cref="InvalidInputError">A share outside 0 to 1, or a value that is no number.</exception>
    /// <exception cref="TooFewDataError">No value.</exception>
    public static double Of(IReadOnlyList<double> values, double p) => OfSorted(Sorted(values, "values"), p);

    /// <summary>As <see cref="Of"/>, for values already in increasing order.</summary>
    internal static double OfSorted(ReadOnlySpan<double> sorted, double p)
    {
        if (!(p >= 0 && p <= 1))
            throw new InvalidInputError($"a quantile at {p} lies outside 0 to 1", "Give a share such as 0.25.");
        if (sorted.IsEmpty)
            throw new TooFewDataError("an empty sample has no quantile", "Give at least one value.");
        // A product such as 0.95 * 20 may fall just under a whole number; it is meant to be that number.
        double h = (sorted.Length - 1) * p;
        double below = Math.Floor(h * (1 + 4e-16));
        double share = Math.Max(0, h - below);
        int at = (int)below;
        return share == 0 ? sorted[at] : sorted[at] + (share * (sorted[at + 1] - sorted[at]));
    }

    /// <summary>A checked copy in increasing order.</summary>
    internal static double[] Sorted(IReadOnlyList<double> values, string name)
    {
        double[] sorted = [.. values];
        Require.Finite(sorted, name);
        Array.Sort(sorted);
        return sorted;
    }
}
