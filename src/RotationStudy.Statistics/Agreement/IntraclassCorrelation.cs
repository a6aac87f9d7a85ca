using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Which intraclass correlation: how raters were assigned, whether their systematic differences count, one rating or the mean.</summary>
public enum IntraclassForm
{
    /// <summary>ICC(1,1), McGraw and Wong ICC(1): each subject has other raters; one rating.</summary>
    OneWaySingle,

    /// <summary>ICC(2,1), McGraw and Wong ICC(A,1): raters are a sample and their differences count as error; one rating.</summary>
    AgreementSingle,

    /// <summary>ICC(3,1), McGraw and Wong ICC(C,1): differences between raters do not count; one rating.</summary>
    ConsistencySingle,

    /// <summary>ICC(1,k), McGraw and Wong ICC(k): as <see cref="OneWaySingle"/>, mean of k ratings.</summary>
    OneWayAverage,

    /// <summary>ICC(2,k), McGraw and Wong ICC(A,k): as <see cref="AgreementSingle"/>, mean of k ratings.</summary>
    AgreementAverage,

    /// <summary>ICC(3,k), McGraw and Wong ICC(C,k): as <see cref="ConsistencySingle"/>, mean of k ratings.</summary>
    ConsistencyAverage,
}

/// <summary>An intraclass correlation with its interval and the F test of zero.</summary>
/// <param name="Form">Which of the six.</param>
/// <param name="Value">The estimate; it can be negative.</param>
/// <param name="Interval">Confidence interval.</param>
/// <param name="Test">F test that it is zero.</param>
public sealed record IntraclassEstimate(IntraclassForm Form, double Value, ConfidenceInterval Interval, TestResult Test);

/// <summary>The share of the variance of ratings that is between subjects: six forms, with F-based intervals.</summary>
/// <remarks>
/// <para>Estimates are ratios of mean squares (<see cref="RatingTable"/>); a negative value is reported as it is. Intervals
/// of the one-way and the consistency forms are exact under normality; that of the agreement forms is
/// Satterthwaite's approximation, which covers too rarely (89%) with three raters and hundreds of subjects: there take
/// <see cref="GeneralizedIntraclassInterval"/>. The form for the mean of k ratings follows by the Spearman-Brown formula.</para>
/// <para>Assumes complete ratings, normal subject effects and residuals. Incomplete ratings: <see cref="UnbalancedIntraclassCorrelation"/>.</para>
/// <para>Edges: a residual mean square of zero gives one with the interval [1, 1] for consistency; ratings that are all
/// equal are refused, since no variance can be shared.</para>
/// <para><b>Sources.</b> Shrout PE, Fleiss JL, Psychol Bull 1979;86:420-428; McGraw KO, Wong SP, Psychol Methods
/// 1996;1:30-46, Tables 4 and 7. <b>Checked against</b> Agreement/shrout_fleiss_1979, Peers.</para>
/// </remarks>
public static class IntraclassCorrelation
{
    /// <summary>All six forms, in the order of <see cref="IntraclassForm"/>.</summary>
    public static IReadOnlyList<IntraclassEstimate> All(RatingTable table, double level = ConfidenceInterval.DefaultLevel)
        => [.. Enum.GetValues<IntraclassForm>().Select(form => Estimate(table, form, level))];

    /// <summary>One form.</summary>
    /// <exception cref="TooFewDataError">All ratings are equal.</exception>
    public static IntraclassEstimate Estimate(RatingTable table, IntraclassForm form, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        if (table.BetweenSubjects == 0 && table.WithinSubjects == 0)
            throw new TooFewDataError("all ratings are equal, so there is no variance to share", "Report the agreement itself; an intraclass correlation needs subjects that differ.");
        (double single, ConfidenceInterval interval, TestResult test) = form switch
        {
            IntraclassForm.OneWaySingle or IntraclassForm.OneWayAverage => OneWay(table, level),
            IntraclassForm.AgreementSingle or IntraclassForm.AgreementAverage => Agreement(table, level),
            _ => Consistency(table, level),
        };
        return form >= IntraclassForm.OneWayAverage
            ? new IntraclassEstimate(form, Average(form, table), interval.Map(r => SpearmanBrown(r, table.Raters)), test)
            : new IntraclassEstimate(form, single, interval, test);
    }

    /// <summary>The reliability of the mean of k ratings of reliability r: k r / (1 + (k-1) r).</summary>
    public static double SpearmanBrown(double r, double k)
        => 1 + ((k - 1) * r) == 0 ? double.NegativeInfinity : k * r / (1 + ((k - 1) * r));

    private static (double Value, ConfidenceInterval Interval, TestResult Test) OneWay(RatingTable t, double level)
    {
        double k = t.Raters;
        double value = (t.BetweenSubjects - t.WithinSubjects) / (t.BetweenSubjects + ((k - 1) * t.WithinSubjects));
        return ByRatio(value, t.BetweenSubjects, t.WithinSubjects, t.Subjects - 1, t.Subjects * (k - 1), k, level);
    }

    private static (double Value, ConfidenceInterval Interval, TestResult Test) Consistency(RatingTable t, double level)
    {
        double k = t.Raters;
        double value = (t.BetweenSubjects - t.Residual) / (t.BetweenSubjects + ((k - 1) * t.Residual));
        return ByRatio(value, t.BetweenSubjects, t.Residual, t.Subjects - 1, (t.Subjects - 1) * (k - 1), k, level);
    }

    /// <summary>The exact interval from the F ratio of two independent mean squares.</summary>
    private static (double Value, ConfidenceInterval Interval, TestResult Test) ByRatio(double value, double between, double error, double df1, double df2, double k, double level)
    {
        double tail = (1 - level) / 2;
        double f = between / error;
        TestResult test = new("F", f, df1, df2, FDistribution.UpperTail(f, df1, df2));
        if (error == 0)
            return (1, new ConfidenceInterval(1, 1, level), test with { PValue = 0 });
        double lower = f / FDistribution.UpperQuantile(tail, df1, df2);
        double upper = f * FDistribution.UpperQuantile(tail, df2, df1);
        return (value, new ConfidenceInterval((lower - 1) / (lower + k - 1), (upper - 1) / (upper + k - 1), level), test);
    }

    private static (double Value, ConfidenceInterval Interval, TestResult Test) Agreement(RatingTable t, double level)
    {
        double n = t.Subjects;
        double k = t.Raters;
        (double b, double j, double e) = (t.BetweenSubjects, t.BetweenRaters, t.Residual);
        double value = (b - e) / (b + ((k - 1) * e) + (k * (j - e) / n));
        double f = b / e;
        TestResult test = new("F", f, n - 1, (n - 1) * (k - 1), e == 0 ? 0 : FDistribution.UpperTail(f, n - 1, (n - 1) * (k - 1)));
        if (e == 0 && j == 0)
            return (1, new ConfidenceInterval(1, 1, level), test);
        // Satterthwaite degrees of freedom of the error of agreement, written without dividing by the residual mean square.
        double spread = (n * (1 + ((k - 1) * value))) - (k * value);
        double whole = (k * value * j) + (spread * e);
        double df = (k - 1) * (n - 1) * whole * whole / (((n - 1) * k * k * value * value * j * j) + (spread * spread * e * e));
        double tail = (1 - level) / 2;
        double up = FDistribution.UpperQuantile(tail, n - 1, df);
        double down = FDistribution.UpperQuantile(tail, df, n - 1);
        double error = (k * j) + (((k * n) - k - n) * e);
        double lower = n * (b - (up * e)) / ((up * error) + (n * b));
        double upper = n * ((down * b) - e) / (error + (n * down * b));
        return (value, new ConfidenceInterval(lower, upper, level), test);
    }

    private static double Average(IntraclassForm form, RatingTable t) => form switch
    {
        IntraclassForm.OneWayAverage => (t.BetweenSubjects - t.WithinSubjects) / t.BetweenSubjects,
        IntraclassForm.AgreementAverage => (t.BetweenSubjects - t.Residual) / (t.BetweenSubjects + ((t.BetweenRaters - t.Residual) / t.Subjects)),
        _ => (t.BetweenSubjects - t.Residual) / t.BetweenSubjects,
    };
}
