namespace RotationStudy.Statistics.Sharing;

/// <summary>What one source, or several together, say about a regression at one value of its coefficients: sums over rows, no row.</summary>
/// <param name="Family">The regression.</param>
/// <param name="Columns">Names of the p columns.</param>
/// <param name="Estimate">Coefficients at which the sums were made, length p.</param>
/// <param name="Rows">Number of rows.</param>
/// <param name="Clusters">Number of clusters; no cluster may stand in two sources.</param>
/// <param name="LogLikelihood">Log-likelihood without what depends on the outcome alone; for least squares minus half the squared residuals.</param>
/// <param name="Score">X'r, length p.</param>
/// <param name="Information">X'WX, p by p, row by row.</param>
/// <param name="Products">Sums of products within clusters, least squares only; null where they are not handed out.</param>
public sealed record RegressionSums(
    SharedFamily Family, IReadOnlyList<string> Columns, IReadOnlyList<double> Estimate, int Rows, int Clusters,
    double LogLikelihood, IReadOnlyList<double> Score, IReadOnlyList<double> Information, ClusterProducts? Products)
{
    /// <summary>How many different numbers a source hands out that are no counts of rows or clusters.</summary>
    public int CountNumbers() => 1 + Columns.Count + (Columns.Count * (Columns.Count + 1) / 2) + (Products?.Numbers ?? 0);

    /// <summary>The sums of several sources together.</summary>
    /// <param name="sources">One or more, of the same regression at the same coefficients.</param>
    /// <exception cref="InvalidInputError">They are of different regressions, columns or coefficients.</exception>
    public static RegressionSums Combine(IReadOnlyList<RegressionSums> sources)
    {
        RegressionSums first = sources[0];
        for (int s = 1; s < sources.Count; s++)
        {
            if (sources[s].Family != first.Family || !sources[s].Columns.SequenceEqual(first.Columns) || !sources[s].Estimate.SequenceEqual(first.Estimate))
                throw new InvalidInputError($"source {s} made its sums of other columns or at other coefficients than source 0", "All sources must answer the same request.", s);
        }
        return first with
        {
            Rows = sources.Sum(s => s.Rows),
            Clusters = sources.Sum(s => s.Clusters),
            LogLikelihood = sources.Sum(s => s.LogLikelihood),
            Score = Sum([.. sources.Select(s => s.Score)]),
            Information = Sum([.. sources.Select(s => s.Information)]),
            Products = sources.All(s => s.Products is not null) ? ClusterProducts.Combine([.. sources.Select(s => s.Products!)]) : null,
        };
    }

    /// <summary>The sums for some of the columns: what the sources would have handed out for these alone, the others having a coefficient of zero.</summary>
    public RegressionSums Select(IReadOnlyList<int> columns)
    {
        int p = Columns.Count;
        return this with
        {
            Columns = [.. columns.Select(c => Columns[c])],
            Estimate = [.. columns.Select(c => Estimate[c])],
            Score = [.. columns.Select(c => Score[c])],
            Information = [.. columns.SelectMany(_ => columns, (r, c) => Information[(r * p) + c])],
            Products = Products?.Select(columns),
        };
    }

    internal static double[] Sum(IReadOnlyList<double>[] parts)
    {
        double[] sum = new double[parts[0].Count];
        foreach (IReadOnlyList<double> part in parts)
        {
            Require.SameLength(part.Count, sum.Length, "sums");
            for (int i = 0; i < sum.Length; i++)
                sum[i] += part[i];
        }
        return sum;
    }
}
