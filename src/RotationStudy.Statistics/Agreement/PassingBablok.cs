using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>A line between two methods that needs no distribution, with intervals that need not be even.</summary>
/// <param name="Subjects">Number of pairs.</param>
/// <param name="Intercept">Constant difference.</param>
/// <param name="InterceptInterval">Its interval; holds zero where there is none.</param>
/// <param name="Slope">Proportional difference.</param>
/// <param name="SlopeInterval">Its interval; holds one where there is none.</param>
public sealed record RankLine(int Subjects, double Intercept, ConfidenceInterval InterceptInterval, double Slope, ConfidenceInterval SlopeInterval);

/// <summary>Passing-Bablok regression: the shifted median of the slopes between all pairs of subjects.</summary>
/// <remarks>
/// <para>Slopes of all pairs are sorted; a pair with both differences zero is left out, one with equal x counts as plus infinity,
/// one with a slope of exactly -1 is left out. K slopes below -1 shift the median, which makes the line the same if x and y are
/// exchanged. The interval reads order statistics C = z root(n(n-1)(2n+5)/18) apart (Kendall). The intercept is the median of
/// y - b x. The threshold -1 supposes a slope near one; with <c>scaleFree</c> it is minus the median absolute slope (1988), for methods in different units.</para>
/// <para>Assumes a straight line and a positive relation; with ties in most pairs the interval is too wide. All n(n-1)/2 slopes are kept: n to about 5000.</para>
/// <para><b>Sources.</b> Passing H, Bablok W, J Clin Chem Clin Biochem 1983;21:709-720; Bablok W et al., ibid. 1988;26:783-790. <b>Checked against</b> Agreement/methods.</para>
/// </remarks>
public static class PassingBablok
{
    private const int LargestCount = 20000;

    // Measurements in decimals have differences that are off by their last bit: a slope this close to the threshold is equal to it.
    private const double SlopeRounding = 1e-10;

    /// <summary>Fits the line.</summary>
    /// <param name="x">First method.</param>
    /// <param name="y">Second method, same subjects.</param>
    /// <param name="scaleFree">Whether the threshold follows the scale of the methods (1988) instead of -1 (1983).</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">Fewer than five subjects, or no slope is left.</exception>
    public static RankLine Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, bool scaleFree = false, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        MeasurementPairs pairs = MeasurementPairs.From(x, y, minimum: 5);
        int n = pairs.Count;
        if (n > LargestCount)
            throw new InvalidInputError($"{n} subjects give more pairs than fit into memory", $"Draw a sample of {LargestCount} subjects.");
        List<double> all = Slopes(pairs);
        double threshold = scaleFree ? -Median([.. all.Select(Math.Abs)]) : -1;
        double[] slopes = [.. all.Where(s => Math.Abs(s - threshold) > SlopeRounding * Math.Abs(threshold))];
        if (slopes.Length == 0)
            throw new TooFewDataError("no two subjects differ", "Check that the rows are different subjects.");
        Array.Sort(slopes);
        int shift = slopes.Count(s => s < threshold);
        double slope = At(slopes, (slopes.Length + 1) / 2, shift, slopes.Length % 2 == 0);
        double c = StandardNormal.UpperQuantile((1 - level) / 2) * Math.Sqrt(n * (n - 1.0) * ((2.0 * n) + 5) / 18);
        int first = Math.Max(1, (int)Math.Round((slopes.Length - c) / 2, MidpointRounding.AwayFromZero));
        ConfidenceInterval interval = new(At(slopes, first, shift, false), At(slopes, slopes.Length - first + 1, shift, false), level);
        if (!double.IsFinite(slope))
            throw new TooFewDataError("most pairs of subjects have equal x, so the slope is vertical", "Exchange the methods, or use measurements with more digits.");
        return new RankLine(n, Intercept(pairs, slope), new ConfidenceInterval(Intercept(pairs, interval.Upper), Intercept(pairs, interval.Lower), level), slope, interval);
    }

    private static List<double> Slopes(MeasurementPairs pairs)
    {
        List<double> slopes = new(pairs.Count * (pairs.Count - 1) / 2);
        for (int i = 0; i < pairs.Count; i++)
        {
            for (int j = i + 1; j < pairs.Count; j++)
            {
                double dx = pairs.First[j] - pairs.First[i];
                double dy = pairs.Second[j] - pairs.Second[i];
                if (dx != 0)
                    slopes.Add(dy / dx);
                else if (dy != 0)
                    slopes.Add(double.PositiveInfinity);
            }
        }
        return slopes;
    }

    /// <summary>The order statistic at a rank from 1, shifted; the mean of it and the next where the count is even.</summary>
    private static double At(double[] sorted, int rank, int shift, bool withNext)
    {
        double here = sorted[Math.Min(rank + shift, sorted.Length) - 1];
        if (!withNext)
            return here;
        return 0.5 * (here + sorted[Math.Min(rank + shift + 1, sorted.Length) - 1]);
    }

    private static double Intercept(MeasurementPairs pairs, double slope)
    {
        if (!double.IsFinite(slope))
            return slope > 0 ? double.NegativeInfinity : double.PositiveInfinity;
        double[] left = new double[pairs.Count];
        for (int i = 0; i < left.Length; i++)
            left[i] = pairs.Second[i] - (slope * pairs.First[i]);
        return Median(left);
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        int half = values.Length / 2;
        return values.Length % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
    }
}
