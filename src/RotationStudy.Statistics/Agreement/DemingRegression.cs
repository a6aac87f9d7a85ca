namespace RotationStudy.Statistics.Agreement;

/// <summary>A straight line between two methods that both carry error.</summary>
/// <param name="Subjects">Number of pairs.</param>
/// <param name="Intercept">Constant difference; compare with zero.</param>
/// <param name="Slope">Proportional difference; compare with one.</param>
/// <param name="Method">How the line and its errors were found.</param>
public sealed record MethodLine(int Subjects, Estimate Intercept, Estimate Slope, string Method);

/// <summary>Deming regression: the line when both measurements carry normal error of known variance ratio.</summary>
/// <remarks>
/// <para>y = a + b x between the true values; ratio = error variance of y over that of x (one: orthogonal regression).
/// With sums of squares u = Syy - ratio Sxx: b = (u + root(u^2 + 4 ratio Sxy^2)) / (2 Sxy). Standard errors are from
/// the jackknife over subjects, with t intervals on n - 2 degrees of freedom. The p value printed with the slope is that of zero; a slope of one is judged by the interval.</para>
/// <para>Measurements without covariance have no slope and are refused. Errors that grow with the size call for logarithms first.</para>
/// <para><b>Sources.</b> Deming WE, Statistical Adjustment of Data, 1943; Linnet K, Stat Med 1990;9:1463-1473 (jackknife).
/// <b>Checked against</b> Agreement/methods.</para>
/// </remarks>
public static class DemingRegression
{
    /// <summary>Fits the line.</summary>
    /// <param name="x">First method.</param>
    /// <param name="y">Second method, same subjects.</param>
    /// <param name="ratio">Error variance of y over error variance of x.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">Fewer than four subjects, or no covariance.</exception>
    public static MethodLine Fit(IReadOnlyList<double> x, IReadOnlyList<double> y, double ratio = 1, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        if (!(ratio > 0 && double.IsFinite(ratio)))
            throw new InvalidInputError($"a variance ratio of {ratio} is not above zero", "Give the error variance of y over that of x.", column: nameof(ratio));
        MeasurementPairs pairs = MeasurementPairs.From(x, y, minimum: 4);
        int n = pairs.Count;
        (double intercept, double slope) = Line(pairs, ratio);
        double[] intercepts = new double[n];
        double[] slopes = new double[n];
        for (int i = 0; i < n; i++)
            (intercepts[i], slopes[i]) = Line(pairs.Without(i), ratio);
        return new MethodLine(
            n,
            Estimate.Wald("intercept", intercept, JackknifeError(intercepts), n - 2, level),
            Estimate.Wald("slope", slope, JackknifeError(slopes), n - 2, level),
            $"Deming regression, variance ratio {FormattableString.Invariant($"{ratio}")}, jackknife");
    }

    private static (double Intercept, double Slope) Line(MeasurementPairs pairs, double ratio)
    {
        if (Math.Abs(pairs.Products) <= 1e-14 * Math.Sqrt(pairs.SquaresFirst * pairs.SquaresSecond) || pairs.Products == 0)
            throw new TooFewDataError("the two measurements do not vary together, so no line joins them", "Check that the rows are the same subjects.");
        double u = pairs.SquaresSecond - (ratio * pairs.SquaresFirst);
        double slope = (u + Math.Sqrt((u * u) + (4 * ratio * pairs.Products * pairs.Products))) / (2 * pairs.Products);
        return (pairs.MeanSecond - (slope * pairs.MeanFirst), slope);
    }

    private static double JackknifeError(double[] values)
    {
        double mean = values.Average();
        double sum = 0;
        foreach (double v in values)
            sum += (v - mean) * (v - mean);
        return Math.Sqrt(sum * (values.Length - 1) / values.Length);
    }
}
