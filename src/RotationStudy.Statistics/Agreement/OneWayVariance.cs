namespace RotationStudy.Statistics.Agreement;

/// <summary>One-way analysis of variance of rows in groups, with variance components by the method of moments.</summary>
/// <param name="Groups">Number of groups, n.</param>
/// <param name="Rows">Number of rows, N.</param>
/// <param name="MeanSquareBetween">Mean square between groups, about the mean of all rows, n - 1 degrees of freedom.</param>
/// <param name="MeanSquareWithin">Mean square within groups, N - n degrees of freedom.</param>
/// <param name="EffectiveSize">n0 = (N - sum of squared sizes / N) / (n - 1).</param>
/// <param name="HarmonicSize">Harmonic mean of the sizes.</param>
/// <param name="MeanOfMeans">Mean of the group means, each counting once.</param>
/// <param name="VarianceOfMeans">Variance of the group means, divisor n - 1.</param>
internal sealed record OneWayVariance(
    int Groups,
    int Rows,
    double MeanSquareBetween,
    double MeanSquareWithin,
    double EffectiveSize,
    double HarmonicSize,
    double MeanOfMeans,
    double VarianceOfMeans)
{
    /// <summary>Variance between groups by moments; it can be negative.</summary>
    internal double BetweenVariance => (MeanSquareBetween - MeanSquareWithin) / EffectiveSize;

    internal static OneWayVariance From(IReadOnlyList<double> values, Clusters groups)
    {
        double[] y = [.. values];
        Require.SameLength(y.Length, groups.Rows, "values");
        Require.Finite(y, "values");
        int n = groups.Count;
        if (n < 2)
            throw new TooFewDataError($"{n} subject gives no variance between subjects", "Give two subjects at the very least.");
        if (y.Length == n)
            throw new TooFewDataError("no subject was measured twice, so there is no variance within", "Give repeated measurements of some subjects.");
        double[] means = new double[n];
        double within = 0;
        double grand = 0;
        double squares = 0;
        double inverse = 0;
        for (int g = 0; g < n; g++)
        {
            ReadOnlySpan<int> rows = groups.Members(g);
            foreach (int i in rows)
                means[g] += y[i] / rows.Length;
            foreach (int i in rows)
                within += (y[i] - means[g]) * (y[i] - means[g]);
            grand += rows.Length * means[g] / y.Length;
            squares += (double)rows.Length * rows.Length;
            inverse += 1.0 / rows.Length;
        }
        double meanOfMeans = means.Average();
        double between = 0;
        double spread = 0;
        for (int g = 0; g < n; g++)
        {
            between += groups.Members(g).Length * (means[g] - grand) * (means[g] - grand);
            spread += (means[g] - meanOfMeans) * (means[g] - meanOfMeans);
        }
        double total = y.Length;
        return new OneWayVariance(n, y.Length, between / (n - 1), within / (total - n), (total - (squares / total)) / (n - 1), n / inverse, meanOfMeans, spread / (n - 1));
    }
}
