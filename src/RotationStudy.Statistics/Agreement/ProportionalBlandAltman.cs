using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Limits of agreement that change with the size measured.</summary>
/// <param name="Subjects">Number of subjects.</param>
/// <param name="Bias">Difference as a straight line in the mean of the two methods: intercept and slope, t intervals on n - 2.</param>
/// <param name="Spread">Absolute residual as a straight line in the mean: intercept and slope.</param>
/// <param name="Multiplier">Number of SDs from the bias to a limit.</param>
public sealed record ProportionalLimits(int Subjects, Coefficients Bias, Coefficients Spread, double Multiplier)
{
    /// <summary>Bias and limits for subjects whose two measurements have this mean.</summary>
    /// <exception cref="InvalidInputError">The line of the spread is below zero there.</exception>
    public (double Lower, double Bias, double Upper) At(double mean)
    {
        double bias = Bias.Values[0] + (Bias.Values[1] * mean);
        double sd = Math.Sqrt(Math.PI / 2) * (Spread.Values[0] + (Spread.Values[1] * mean));
        if (!(sd >= 0))
            throw new InvalidInputError($"the line of the spread gives an SD of {sd} at {mean}", "Stay inside the range measured, or take logarithms.");
        return (bias - (Multiplier * sd), bias, bias + (Multiplier * sd));
    }
}

/// <summary>Limits of agreement by regression, for a bias or a spread that grows with the size measured.</summary>
/// <remarks>
/// <para>Difference on mean by least squares gives the bias; absolute residuals on mean give the spread, times root(pi/2), since
/// the mean absolute value of a normal error is its SD times root(2/pi). A slope of the bias that is not distinguishable from
/// zero speaks for <see cref="BlandAltman"/>; the mean is measured with error, and two methods of unequal precision
/// give a slope without any bias.</para>
/// <para><b>Sources.</b> Bland JM, Altman DG, Stat Methods Med Res 1999;8:135-160, sec. 3.2. <b>Checked against</b> Agreement/methods.</para>
/// </remarks>
public static class ProportionalBlandAltman
{
    private static readonly string[] Terms = ["intercept", "mean"];

    /// <summary>Estimates the lines.</summary>
    /// <exception cref="TooFewDataError">Fewer than four subjects.</exception>
    /// <exception cref="RankDeficientError">All means are equal.</exception>
    public static ProportionalLimits Estimate(IReadOnlyList<double> first, IReadOnlyList<double> second, double share = BlandAltman.DefaultShare)
    {
        Require.Probability(share, nameof(share));
        MeasurementPairs pairs = MeasurementPairs.From(first, second, minimum: 4);
        double[] mean = new double[pairs.Count];
        double[] difference = new double[pairs.Count];
        for (int i = 0; i < mean.Length; i++)
        {
            mean[i] = 0.5 * (pairs.First[i] + pairs.Second[i]);
            difference[i] = pairs.First[i] - pairs.Second[i];
        }
        Coefficients bias = Line(mean, difference);
        double[] size = new double[mean.Length];
        for (int i = 0; i < size.Length; i++)
            size[i] = Math.Abs(difference[i] - bias.Values[0] - (bias.Values[1] * mean[i]));
        return new ProportionalLimits(mean.Length, bias, Line(mean, size), StandardNormal.UpperQuantile((1 - share) / 2));
    }

    private static Coefficients Line(double[] x, double[] y)
    {
        MeasurementPairs pairs = MeasurementPairs.From(x, y, minimum: 4);
        int n = pairs.Count;
        if (pairs.SquaresFirst == 0)
            throw new RankDeficientError(["mean"]);
        double slope = pairs.Products / pairs.SquaresFirst;
        double intercept = pairs.MeanSecond - (slope * pairs.MeanFirst);
        double residual = 0;
        for (int i = 0; i < n; i++)
        {
            double e = y[i] - intercept - (slope * x[i]);
            residual += e * e;
        }
        double variance = residual / (n - 2);
        double ofSlope = variance / pairs.SquaresFirst;
        double covariance = -pairs.MeanFirst * ofSlope;
        double ofIntercept = (variance / n) + (pairs.MeanFirst * pairs.MeanFirst * ofSlope);
        return new Coefficients([intercept, slope], new SymmetricMatrix(Terms, [ofIntercept, covariance, covariance, ofSlope]), "least squares", [n - 2, n - 2]);
    }
}
