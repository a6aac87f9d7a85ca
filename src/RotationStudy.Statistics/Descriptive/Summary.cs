namespace RotationStudy.Statistics.Descriptive;

/// <summary>One continuous quantity in one group, as a baseline table shows it.</summary>
/// <param name="Count">Number of values.</param>
/// <param name="Mean">Arithmetic mean.</param>
/// <param name="StandardDeviation">With division by n - 1; NaN for a single value, which has none.</param>
/// <param name="Minimum">Smallest value.</param>
/// <param name="LowerQuartile">Quantile .25, type 7.</param>
/// <param name="Median">Quantile .5.</param>
/// <param name="UpperQuartile">Quantile .75, type 7.</param>
/// <param name="Maximum">Largest value.</param>
public sealed record Summary(
    int Count,
    double Mean,
    double StandardDeviation,
    double Minimum,
    double LowerQuartile,
    double Median,
    double UpperQuartile,
    double Maximum)
{
    /// <summary>Standard deviation over the root of n.</summary>
    public double StandardErrorOfMean => StandardDeviation / Math.Sqrt(Count);

    /// <summary>Upper minus lower quartile.</summary>
    public double InterquartileRange => UpperQuartile - LowerQuartile;

    /// <summary>Summarises values in any order.</summary>
    /// <exception cref="TooFewDataError">No value.</exception>
    /// <exception cref="InvalidInputError">A value that is no number.</exception>
    public static Summary Of(IReadOnlyList<double> values)
    {
        double[] sorted = Quantile.Sorted(values, "values");
        if (sorted.Length == 0)
            throw new TooFewDataError("an empty sample has no summary", "Give at least one value.");
        (double mean, double variance) = MeanAndVariance(sorted);
        return new Summary(
            sorted.Length,
            mean,
            Math.Sqrt(variance),
            sorted[0],
            Quantile.OfSorted(sorted, 0.25),
            Quantile.OfSorted(sorted, 0.5),
            Quantile.OfSorted(sorted, 0.75),
            sorted[^1]);
    }

    /// <summary>Mean and variance with division by n - 1 (NaN for one value), in two passes.</summary>
    internal static (double Mean, double Variance) MeanAndVariance(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double v in values)
            sum += v;
        double mean = sum / values.Length;
        double squares = 0;
        double left = 0;
        foreach (double v in values)
        {
            squares += (v - mean) * (v - mean);
            left += v - mean;
        }
        // What rounding left in the mean is taken out of both (Chan, Golub and LeVeque 1983).
        return (mean + (left / values.Length), values.Length > 1 ? (squares - (left * left / values.Length)) / (values.Length - 1) : double.NaN);
    }
}
