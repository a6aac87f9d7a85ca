using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Limits of agreement for single measurements, estimated from repeated measurements of each subject.</summary>
/// <remarks>
/// <para><see cref="Paired"/>: each row is a pair taken together, and the true value may change between pairs. The
/// variance of a single difference is the variance between the subjects' mean differences plus (1 - 1/m) times the variance within.
/// <see cref="Unpaired"/>: the true value stays, and replicates of the two methods are independent; (1 - 1/m) times
/// the variance within is added for each method. m is the harmonic mean of the numbers of replicates, so numbers may be
/// unequal. The bias is the mean of the subjects' mean differences, each subject counting once.</para>
/// <para>Intervals: MOVER (method of variance estimates recovery): each component has its chi-square interval, recovered
/// variances are added, and bias and SD are joined in the same way. Approximate; its coverage is in docs/coverage/agreement.md.
/// Assumes normal subject effects and errors that do not grow with the size measured.</para>
/// <para><b>Sources.</b> Bland JM, Altman DG, Stat Methods Med Res 1999;8:135-160, sec. 5, and J Biopharm Stat
/// 2007;17:571-582; Zou GY, Stat Methods Med Res 2013;22:630-642. <b>Checked against</b> Agreement/bland_altman_pefr (corrected SD of 1986), Agreement/methods.</para>
/// </remarks>
public static class RepeatedBlandAltman
{
    /// <summary>Limits from pairs of measurements, several pairs per subject; the true value may change between pairs.</summary>
    /// <param name="first">Measurements by the first method, one per row.</param>
    /// <param name="second">Measurements by the second method, taken together with the first.</param>
    /// <param name="subjects">Which rows belong to one subject.</param>
    /// <param name="share">The share of differences between the limits.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">One subject, or no subject measured twice.</exception>
    public static AgreementLimits Paired(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        Clusters subjects,
        double share = BlandAltman.DefaultShare,
        double level = ConfidenceInterval.DefaultLevel)
    {
        MeasurementPairs pairs = MeasurementPairs.From(first, second, minimum: 3);
        double[] difference = new double[pairs.Count];
        for (int i = 0; i < difference.Length; i++)
            difference[i] = pairs.First[i] - pairs.Second[i];
        OneWayVariance v = OneWayVariance.From(difference, subjects);
        VariancePart[] parts = [new(v.VarianceOfMeans, v.Groups - 1), Within(v)];
        return Limits(v.Groups, v.Rows, v.MeanOfMeans, v.VarianceOfMeans, parts, share, level, "repeated pairs, MOVER intervals");
    }

    /// <summary>Limits from independent replicates of each method; the true value stays the same.</summary>
    /// <param name="first">All measurements by the first method.</param>
    /// <param name="firstSubjects">Their subjects.</param>
    /// <param name="second">All measurements by the second method.</param>
    /// <param name="secondSubjects">Their subjects, numbered alike: the g-th subject to appear is the same in both.</param>
    /// <param name="share">The share of differences between the limits.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="InvalidInputError">The two methods measured different numbers of subjects.</exception>
    public static AgreementLimits Unpaired(
        IReadOnlyList<double> first,
        Clusters firstSubjects,
        IReadOnlyList<double> second,
        Clusters secondSubjects,
        double share = BlandAltman.DefaultShare,
        double level = ConfidenceInterval.DefaultLevel)
    {
        if (firstSubjects.Count != secondSubjects.Count)
            throw new InvalidInputError($"the methods measured {firstSubjects.Count} and {secondSubjects.Count} subjects", "Keep the subjects that both methods measured, in the same order.");
        OneWayVariance a = OneWayVariance.From(first, firstSubjects);
        OneWayVariance b = OneWayVariance.From(second, secondSubjects);
        double[] means = new double[a.Groups];
        for (int g = 0; g < means.Length; g++)
            means[g] = Mean(first, firstSubjects.Members(g)) - Mean(second, secondSubjects.Members(g));
        double bias = means.Average();
        double spread = means.Sum(m => (m - bias) * (m - bias)) / (means.Length - 1);
        VariancePart[] parts = [new(spread, a.Groups - 1), Within(a), Within(b)];
        return Limits(a.Groups, a.Rows + b.Rows, bias, spread, parts, share, level, "independent replicates, MOVER intervals");
    }

    private static VariancePart Within(OneWayVariance v) => new((1 - (1 / v.HarmonicSize)) * v.MeanSquareWithin, v.Rows - v.Groups);

    private static double Mean(IReadOnlyList<double> values, ReadOnlySpan<int> rows)
    {
        double sum = 0;
        foreach (int i in rows)
            sum += values[i];
        return sum / rows.Length;
    }

    private static AgreementLimits Limits(int subjects, int measurements, double bias, double varianceOfMeans, VariancePart[] parts, double share, double level, string method)
    {
        Require.Probability(level, nameof(level));
        Require.Probability(share, nameof(share));
        double tail = (1 - level) / 2;
        double total = 0;
        double down = 0;
        double up = 0;
        foreach (VariancePart part in parts)
        {
            total += part.Variance;
            double below = part.Variance * (1 - (part.DegreesOfFreedom / ChiSquared.UpperQuantile(tail, part.DegreesOfFreedom)));
            double above = part.Variance * ((part.DegreesOfFreedom / ChiSquared.Quantile(tail, part.DegreesOfFreedom)) - 1);
            down += below * below;
            up += above * above;
        }
        double sd = Math.Sqrt(total);
        double least = Math.Sqrt(Math.Max(0, total - Math.Sqrt(down)));
        double most = Math.Sqrt(total + Math.Sqrt(up));
        double z = StandardNormal.UpperQuantile((1 - share) / 2);
        double normal = StandardNormal.UpperQuantile(tail);
        double ofBias = normal * normal * varianceOfMeans / subjects;
        double inner = Math.Sqrt(ofBias + (z * z * (sd - least) * (sd - least)));
        double outer = Math.Sqrt(ofBias + (z * z * (most - sd) * (most - sd)));
        double lower = bias - (z * sd);
        double upper = bias + (z * sd);
        return new AgreementLimits(
            subjects,
            measurements,
            Estimate.Wald("bias", bias, Math.Sqrt(varianceOfMeans / subjects), subjects - 1, level),
            sd,
            z,
            new AgreementLimit(lower, new ConfidenceInterval(lower - outer, lower + inner, level)),
            new AgreementLimit(upper, new ConfidenceInterval(upper - inner, upper + outer, level)),
            method);
    }

    /// <summary>A variance that enters the sum, with the degrees of freedom of its chi-square distribution.</summary>
    private readonly record struct VariancePart(double Variance, double DegreesOfFreedom);
}
