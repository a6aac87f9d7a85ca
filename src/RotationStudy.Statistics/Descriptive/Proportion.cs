using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Descriptive;

/// <summary>A share of independent rows with its interval.</summary>
/// <param name="Count">Rows that have the property.</param>
/// <param name="Total">All rows.</param>
/// <param name="Interval">Interval of the share, within 0 to 1.</param>
/// <param name="Method">Which interval.</param>
/// <remarks>
/// <para><b>Wilson</b>: inverts the score test, close to its nominal coverage on average; the default for description.
/// <b>Clopper-Pearson</b>: inverts the exact binomial tests, never below nominal coverage, wider. Both assume
/// independent rows: two rows of one person are not independent, and a cluster-robust regression is needed
/// instead.</para>
/// <para><b>Edges</b>: no row has the property: the lower bound is 0; all rows have it: the upper bound is 1. No row at
/// all is refused.</para>
/// <para><b>Sources</b>: Wilson EB. J Am Stat Assoc 1927;22:209-212; Clopper CJ, Pearson ES. Biometrika
/// 1934;26:404-413; Newcombe RG. Stat Med 1998;17:857-872.</para>
/// </remarks>
public sealed record Proportion(int Count, int Total, ConfidenceInterval Interval, string Method)
{
    /// <summary>The share.</summary>
    public double Value => (double)Count / Total;

    /// <summary>The share with Wilson's score interval, without continuity correction.</summary>
    /// <exception cref="InvalidInputError">A count outside 0 to total.</exception>
    /// <exception cref="TooFewDataError">No row.</exception>
    public static Proportion Wilson(int count, int total, double level = ConfidenceInterval.DefaultLevel)
    {
        Check(count, total, level);
        double z = StandardNormal.Quantile(0.5 + (level / 2));
        double n = total;
        double p = count / n;
        double center = (p + (z * z / (2 * n))) / (1 + (z * z / n));
        double half = z / (1 + (z * z / n)) * Math.Sqrt((p * (1 - p) / n) + (z * z / (4 * n * n)));
        double lower = count == 0 ? 0 : center - half;
        double upper = count == total ? 1 : center + half;
        return new Proportion(count, total, new ConfidenceInterval(lower, upper, level), "Wilson score");
    }

    /// <summary>The share with the exact interval of Clopper and Pearson.</summary>
    /// <exception cref="InvalidInputError">A count outside 0 to total.</exception>
    /// <exception cref="TooFewDataError">No row.</exception>
    public static Proportion ClopperPearson(int count, int total, double level = ConfidenceInterval.DefaultLevel)
    {
        Check(count, total, level);
        double tail = (1 - level) / 2;
        double lower = count == 0 ? 0 : Beta.Quantile(tail, count, total - count + 1.0);
        double upper = count == total ? 1 : Beta.UpperQuantile(tail, count + 1.0, total - count);
        return new Proportion(count, total, new ConfidenceInterval(lower, upper, level), "Clopper-Pearson exact");
    }

    private static void Check(int count, int total, double level)
    {
        Require.Probability(level, "level");
        if (total < 1)
            throw new TooFewDataError("a share of no rows has no value", "Give at least one row.");
        if (count < 0 || count > total)
            throw new InvalidInputError($"{count} of {total} is no share", "Give a count from 0 to the total.");
    }
}
