using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Variance components of a one-way layout with unequal numbers of ratings, and the intraclass correlation.</summary>
/// <param name="Subjects">Number of subjects, n.</param>
/// <param name="Ratings">Number of ratings, N.</param>
/// <param name="EffectiveRatings">The n0 that stands for the number of ratings per subject.</param>
/// <param name="BetweenVariance">Variance between subjects; zero where the estimate is negative.</param>
/// <param name="WithinVariance">Variance within subjects.</param>
/// <param name="Value">Intraclass correlation of one rating, ICC(1,1); it can be negative.</param>
/// <param name="Interval">Approximate confidence interval.</param>
/// <param name="Test">F test that it is zero (exact).</param>
public sealed record UnbalancedIntraclassEstimate(
    int Subjects,
    int Ratings,
    double EffectiveRatings,
    double BetweenVariance,
    double WithinVariance,
    double Value,
    ConfidenceInterval Interval,
    TestResult Test);

/// <summary>Intraclass correlation ICC(1,1) from unequal numbers of ratings per subject, by analysis of variance.</summary>
/// <remarks>
/// <para>Model: rating = mean + subject + residual. The number of ratings per subject is replaced by
/// n0 = (N - sum of n_i^2 / N) / (n - 1), which makes the variance between subjects unbiased. With equal numbers the
/// estimate and interval are those of <see cref="IntraclassForm.OneWaySingle"/>.</para>
/// <para>The interval takes the F ratio as if n0 ratings had been made of every subject: exact with equal numbers,
/// approximate otherwise, and too narrow where numbers differ tenfold and the correlation is high (Donner and Wells 1986).
/// Two-way designs with gaps: <see cref="MixedIntraclassCorrelation"/>. Variance components of any other mixed model go into
/// <see cref="FromComponents"/>.</para>
/// <para><b>Sources.</b> Donner A, Wells G, Biometrics 1986;42:401-412; Searle SR, Casella G, McCulloch CE, Variance
/// Components, 1992, sec. 3.6. <b>Checked against</b> Agreement/shrout_fleiss_1979 (equal numbers), a case by hand.</para>
/// </remarks>
public static class UnbalancedIntraclassCorrelation
{
    /// <summary>Estimates from ratings in rows.</summary>
    /// <param name="ratings">Ratings, length N.</param>
    /// <param name="subjects">Which subject each belongs to.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">One subject, no subject with two ratings, or no variance.</exception>
    public static UnbalancedIntraclassEstimate OneWay(IReadOnlyList<double> ratings, Clusters subjects, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        OneWayVariance v = OneWayVariance.From(ratings, subjects);
        double f = v.MeanSquareBetween / v.MeanSquareWithin;
        if (v.MeanSquareBetween == 0 && v.MeanSquareWithin == 0)
            throw new TooFewDataError("all ratings are equal, so there is no variance to share", "Report the agreement itself; an intraclass correlation needs subjects that differ.");
        double n0 = v.EffectiveSize;
        double df1 = v.Groups - 1;
        double df2 = v.Rows - v.Groups;
        double tail = (1 - level) / 2;
        double lower = f / FDistribution.UpperQuantile(tail, df1, df2);
        double upper = f * FDistribution.UpperQuantile(tail, df2, df1);
        bool perfect = v.MeanSquareWithin == 0;
        return new UnbalancedIntraclassEstimate(
            v.Groups,
            v.Rows,
            n0,
            Math.Max(0, v.BetweenVariance),
            v.MeanSquareWithin,
            perfect ? 1 : (f - 1) / (f + n0 - 1),
            perfect ? new ConfidenceInterval(1, 1, level) : new ConfidenceInterval((lower - 1) / (lower + n0 - 1), (upper - 1) / (upper + n0 - 1), level),
            new TestResult("F", f, df1, df2, perfect ? 0 : FDistribution.UpperTail(f, df1, df2)));
    }

    /// <summary>The intraclass correlation of one rating from variance components, as a mixed model gives them: between subjects over the total.</summary>
    /// <param name="subject">Variance between subjects.</param>
    /// <param name="error">Every variance that counts as error: residual, and rater for absolute agreement.</param>
    public static double FromComponents(double subject, params ReadOnlySpan<double> error)
    {
        double total = subject;
        foreach (double e in error)
            total += e;
        if (!(total > 0) || subject < 0)
            throw new InvalidInputError($"a variance of {subject} out of {total} gives no correlation", "Give variances of zero or more, with one above zero.");
        return subject / total;
    }
}
