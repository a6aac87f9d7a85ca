using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>One limit of agreement with its interval, in the unit of the measurements.</summary>
/// <param name="Value">The limit.</param>
/// <param name="Interval">Confidence interval of the limit in the population.</param>
public sealed record AgreementLimit(double Value, ConfidenceInterval Interval);

/// <summary>Bias and limits of agreement of two methods.</summary>
/// <param name="Subjects">Number of subjects.</param>
/// <param name="Measurements">Number of differences, or of all measurements in unpaired designs.</param>
/// <param name="Bias">Mean difference, first less second, with its t interval and p value.</param>
/// <param name="StandardDeviation">SD of the difference between single measurements by the two methods on one subject.</param>
/// <param name="Multiplier">Number of SDs from the bias to a limit.</param>
/// <param name="Lower">Lower limit.</param>
/// <param name="Upper">Upper limit.</param>
/// <param name="Method">How the SD and the intervals were reached.</param>
public sealed record AgreementLimits(
    int Subjects,
    int Measurements,
    Estimate Bias,
    double StandardDeviation,
    double Multiplier,
    AgreementLimit Lower,
    AgreementLimit Upper,
    string Method);

/// <summary>How the intervals of the limits are made.</summary>
public enum LimitInterval
{
    /// <summary>Exact under normality, from the noncentral t distribution (Carkeet 2015); uneven about the limit.</summary>
    Exact,

    /// <summary>Bland and Altman's (1999): limit plus or minus t times s root(1/n + z^2/(2(n-1))); even, close for n over 50.</summary>
    Approximate,
}

/// <summary>Limits of agreement of two methods, one measurement by each per subject.</summary>
/// <remarks>
/// <para>d = first - second; limits: mean d plus or minus z s, within which 95% of differences between the methods lie if d
/// is normal with the same mean and SD over the range of measurement. z = 1.96; Bland and Altman (1986) printed 2.</para>
/// <para>Rows that belong to one subject twice are not single measurements: use <see cref="RepeatedBlandAltman"/>.
/// A bias or spread that grows with the size: <see cref="ProportionalBlandAltman"/>. Differences that do not vary give
/// limits equal to the bias, with intervals of width zero.</para>
/// <para><b>Sources.</b> Bland JM, Altman DG, Lancet 1986;i:307-310 and Stat Methods Med Res 1999;8:135-160, sec. 2; Carkeet A, Optom Vis
/// Sci 2015;92:e71-e80. <b>Checked against</b> Agreement/bland_altman_pefr, Distributions/noncentral_t.</para>
/// </remarks>
public static class BlandAltman
{
    /// <summary>The share of differences that the limits hold, when no other is asked for.</summary>
    public const double DefaultShare = 0.95;

    /// <summary>Estimates the limits.</summary>
    /// <param name="first">Measurements by the first method.</param>
    /// <param name="second">Measurements by the second method, the same subjects in the same order.</param>
    /// <param name="kind">How the intervals of the limits are made.</param>
    /// <param name="share">The share of differences between the limits.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">Fewer than three subjects.</exception>
    public static AgreementLimits Estimate(
        IReadOnlyList<double> first,
        IReadOnlyList<double> second,
        LimitInterval kind = LimitInterval.Exact,
        double share = DefaultShare,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        Require.Probability(share, nameof(share));
        MeasurementPairs pairs = MeasurementPairs.From(first, second, minimum: 3);
        int n = pairs.Count;
        double bias = pairs.MeanFirst - pairs.MeanSecond;
        double sd = Math.Sqrt(Math.Max(0, pairs.SquaresFirst + pairs.SquaresSecond - (2 * pairs.Products)) / (n - 1));
        double z = StandardNormal.UpperQuantile((1 - share) / 2);
        (double inner, double outer) = kind == LimitInterval.Exact ? ExactFactors(n, z, level) : ApproximateFactors(n, z, level);
        return new AgreementLimits(
            n,
            n,
            Statistics.Estimate.Wald("bias", bias, sd / Math.Sqrt(n), n - 1, level),
            sd,
            z,
            new AgreementLimit(bias - (z * sd), new ConfidenceInterval(bias - (outer * sd), bias - (inner * sd), level)),
            new AgreementLimit(bias + (z * sd), new ConfidenceInterval(bias + (inner * sd), bias + (outer * sd), level)),
            kind == LimitInterval.Exact ? "single measurements, exact intervals" : "single measurements, approximate intervals");
    }

    /// <summary>Tolerance factors: (mean + k s - limit) has its quantiles where root(n) k is a noncentral t quantile with noncentrality z root(n).</summary>
    private static (double Inner, double Outer) ExactFactors(int n, double z, double level)
    {
        double root = Math.Sqrt(n);
        return (NoncentralT.Quantile((1 - level) / 2, n - 1, z * root) / root, NoncentralT.Quantile((1 + level) / 2, n - 1, z * root) / root);
    }

    private static (double Inner, double Outer) ApproximateFactors(int n, double z, double level)
    {
        double half = StudentT.UpperQuantile((1 - level) / 2, n - 1) * Math.Sqrt((1.0 / n) + (z * z / (2 * (n - 1.0))));
        return (z - half, z + half);
    }
}
