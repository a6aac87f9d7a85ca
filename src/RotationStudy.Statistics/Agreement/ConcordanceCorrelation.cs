using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Lin's concordance correlation of two measurements.</summary>
/// <param name="Subjects">Number of pairs.</param>
/// <param name="Value">The coefficient: precision times accuracy.</param>
/// <param name="Interval">Interval by Fisher's transformation.</param>
/// <param name="Precision">Pearson's correlation: how far points scatter about a line.</param>
/// <param name="Accuracy">Bias factor: how far that line is from identity; one for none.</param>
public sealed record ConcordanceEstimate(int Subjects, double Value, ConfidenceInterval Interval, double Precision, double Accuracy);

/// <summary>How closely pairs of measurements follow the line of identity.</summary>
/// <remarks>
/// <para>2 Sxy / (Sxx + Syy + (difference of means)^2), variances with divisor n as in Lin (1989). The interval uses the
/// variance of the inverse hyperbolic tangent as corrected in 2000. It depends on the range of the subjects as every
/// correlation does. Both measurements constant is refused. Perfect concordance has the interval [1, 1], and a correlation of exactly zero or one without concordance is refused, as the variance formula divides by it.</para>
/// <para><b>Sources.</b> Lin LI, Biometrics 1989;45:255-268; correction Biometrics 2000;56:324-325. <b>Checked against</b> Agreement/methods.</para>
/// </remarks>
public static class ConcordanceCorrelation
{
    /// <summary>Estimates the coefficient.</summary>
    /// <exception cref="TooFewDataError">Fewer than four pairs, or a measurement does not vary.</exception>
    public static ConcordanceEstimate Estimate(IReadOnlyList<double> x, IReadOnlyList<double> y, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        MeasurementPairs pairs = MeasurementPairs.From(x, y, minimum: 4);
        double n = pairs.Count;
        if (pairs.SquaresFirst == 0 || pairs.SquaresSecond == 0 || pairs.Products == 0)
            throw new TooFewDataError("a measurement does not vary, or the two do not vary together", "Report the differences themselves.");
        double root = Math.Sqrt(pairs.SquaresFirst * pairs.SquaresSecond);
        double r = Math.Clamp(pairs.Products / root, -1, 1);
        double shift = pairs.MeanFirst - pairs.MeanSecond;
        double c = 2 * pairs.Products / (pairs.SquaresFirst + pairs.SquaresSecond + (n * shift * shift));
        if (1 - Math.Abs(c) < 1e-14)
            return new ConcordanceEstimate(pairs.Count, c, new ConfidenceInterval(c, c, level), r, c / r);
        double u2 = n * shift * shift / root;
        double left = 1 - (c * c);
        double variance = (((1 - (r * r)) * c * c / (left * r * r))
            + (2 * c * c * c * (1 - c) * u2 / (r * left * left))
            - (c * c * c * c * u2 * u2 / (2 * r * r * left * left))) / (n - 2);
        double half = StandardNormal.UpperQuantile((1 - level) / 2) * Math.Sqrt(Math.Max(0, variance));
        double z = Math.Atanh(c);
        return new ConcordanceEstimate(pairs.Count, c, new ConfidenceInterval(Math.Tanh(z - half), Math.Tanh(z + half), level), r, c / r);
    }
}
