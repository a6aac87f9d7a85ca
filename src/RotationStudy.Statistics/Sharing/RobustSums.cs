namespace RotationStudy.Statistics.Sharing;

/// <summary>What a source adds to the bias-reduced cluster-robust covariance of a finished fit, and to its degrees of freedom.</summary>
/// <param name="Rows">Number of rows.</param>
/// <param name="Clusters">Number of clusters.</param>
/// <param name="Covariance">Its clusters' part of the covariance CR2, p by p, row by row; the parts of all sources add up.</param>
/// <param name="Means">Its part of the expectation of each variance under the working model, length p.</param>
/// <param name="Variances">Its part of the sums over single clusters in the variance of each variance, length p.</param>
/// <param name="Pairs">Its part of the p by p matrices from which the sums over pairs of clusters follow, one after the other, length p cubed.</param>
public sealed record RobustSums(
    int Rows, int Clusters, IReadOnlyList<double> Covariance, IReadOnlyList<double> Means, IReadOnlyList<double> Variances, IReadOnlyList<double> Pairs)
{
    /// <summary>How many different numbers these are, counts of rows and clusters aside.</summary>
    public int CountNumbers() => CountFor(Means.Count);

    /// <summary>The parts of several sources together.</summary>
    /// <param name="sources">One or more.</param>
    /// <exception cref="InvalidInputError">They differ in length.</exception>
    public static RobustSums Combine(IReadOnlyList<RobustSums> sources) => new(
        sources.Sum(s => s.Rows),
        sources.Sum(s => s.Clusters),
        RegressionSums.Sum([.. sources.Select(s => s.Covariance)]),
        RegressionSums.Sum([.. sources.Select(s => s.Means)]),
        RegressionSums.Sum([.. sources.Select(s => s.Variances)]),
        RegressionSums.Sum([.. sources.Select(s => s.Pairs)]));

    internal static int CountFor(int p) => (p * (p + 1) / 2 * (p + 1)) + (2 * p);
}
