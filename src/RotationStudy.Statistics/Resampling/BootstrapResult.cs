using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Resampling;

/// <summary>Values of a statistic over resamples, and the intervals made from them.</summary>
/// <remarks>
/// A share p of R values is read off at position (R+1)p with linear interpolation between order statistics (Davison and
/// Hinkley 1997, p. 194), held at the extreme values. Libraries that interpolate on the normal scale differ in the third digit.
/// </remarks>
public sealed class BootstrapResult
{
    private readonly double[] original;
    private readonly double[][] replicates;

    internal BootstrapResult(IReadOnlyList<string> names, double[] original, double[][] replicates, int failures)
    {
        Names = names;
        this.original = original;
        this.replicates = replicates;
        Failures = failures;
    }

    /// <summary>Names of the components.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Resamples in which the statistic existed.</summary>
    public int Replicates => replicates.Length;

    /// <summary>Resamples in which it did not.</summary>
    public int Failures { get; }

    /// <summary>The statistic on the data themselves.</summary>
    public double Original(int component) => original[component];

    /// <summary>The statistic on one resample.</summary>
    public double Replicate(int replicate, int component) => replicates[replicate][component];

    /// <summary>Mean of the replicates less the original value.</summary>
    public double Bias(int component) => Mean(component) - original[component];

    /// <summary>Standard deviation of the replicates, divisor R - 1.</summary>
    public double StandardError(int component)
    {
        double mean = Mean(component);
        double sum = 0;
        foreach (double[] r in replicates)
            sum += (r[component] - mean) * (r[component] - mean);
        return Math.Sqrt(sum / (replicates.Length - 1));
    }

    /// <summary>The percentile interval: the central share of the replicates.</summary>
    public ConfidenceInterval Percentile(int component, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        double[] sorted = Sorted(component);
        return new ConfidenceInterval(OrderStatistic.At(sorted, (1 - level) / 2), OrderStatistic.At(sorted, (1 + level) / 2), level);
    }

    /// <summary>The basic interval: twice the original less the percentiles.</summary>
    public ConfidenceInterval Basic(int component, double level = ConfidenceInterval.DefaultLevel)
    {
        ConfidenceInterval percentile = Percentile(component, level);
        return new ConfidenceInterval((2 * original[component]) - percentile.Upper, (2 * original[component]) - percentile.Lower, level);
    }

    /// <summary>The bias-corrected and accelerated interval of Efron (1987), the acceleration from a jackknife by cluster.</summary>
    /// <remarks>Replicates equal to the original count half on each side in the bias correction.</remarks>
    /// <exception cref="TooFewDataError">All replicates lie on one side of the original: the correction is infinite.</exception>
    public ConfidenceInterval Bca(int component, JackknifeResult jackknife, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        double[] sorted = Sorted(component);
        double correction = StandardNormal.Quantile(ShareBelowOriginal(component));
        if (double.IsInfinity(correction))
            throw new TooFewDataError("all replicates lie on one side of the estimate, so its bias cannot be corrected", "Ask for more replicates; if it stays, the statistic is at the edge of its range and no bootstrap interval serves.");
        double acceleration = jackknife.Acceleration(component);
        double lower = Corrected((1 - level) / 2, correction, acceleration);
        double upper = Corrected((1 + level) / 2, correction, acceleration);
        return new ConfidenceInterval(OrderStatistic.At(sorted, lower), OrderStatistic.At(sorted, upper), level);
    }

    private double ShareBelowOriginal(int component)
    {
        double count = 0;
        foreach (double[] r in replicates)
            count += r[component] < original[component] ? 1 : r[component] == original[component] ? 0.5 : 0;
        return count / replicates.Length;
    }

    private static double Corrected(double share, double correction, double acceleration)
    {
        double z = correction + StandardNormal.Quantile(share);
        return StandardNormal.LowerTail(correction + (z / (1 - (acceleration * z))));
    }

    private double[] Sorted(int component)
    {
        double[] sorted = new double[replicates.Length];
        for (int r = 0; r < sorted.Length; r++)
            sorted[r] = replicates[r][component];
        Array.Sort(sorted);
        return sorted;
    }

    private double Mean(int component)
    {
        double sum = 0;
        foreach (double[] r in replicates)
            sum += r[component];
        return sum / replicates.Length;
    }
}
