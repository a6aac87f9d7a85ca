namespace RotationStudy.Statistics.GroupComparison;

/// <summary>The exact distribution of a rank statistic without ties, from the number of ways to reach each value.</summary>
internal sealed class RankSumDistribution
{
    private readonly double[] cumulative;

    private RankSumDistribution(double[] ways)
    {
        cumulative = new double[ways.Length];
        double sum = 0;
        for (int i = 0; i < ways.Length; i++)
            cumulative[i] = sum += ways[i];
    }

    /// <summary>Mann and Whitney's U of groups of m and n values: 0 to m n, symmetric.</summary>
    internal static RankSumDistribution MannWhitney(int m, int n)
    {
        int largest = m * n;
        double[][] ways = new double[m + 1][];
        for (int i = 0; i <= m; i++)
        {
            ways[i] = new double[largest + 1];
            ways[i][0] = 1;
        }
        // The highest rank belongs to the first group, and adds j, or to the second: w(i, j; u) = w(i-1, j; u-j) + w(i, j-1; u).
        for (int j = 1; j <= n; j++)
        {
            for (int i = 1; i <= m; i++)
            {
                for (int u = j; u <= i * j; u++)
                    ways[i][u] += ways[i - 1][u - j];
            }
        }
        return new RankSumDistribution(ways[m]);
    }

    /// <summary>Wilcoxon's signed-rank sum of n pairs: 0 to n (n + 1) / 2, symmetric.</summary>
    internal static RankSumDistribution SignedRank(int n)
    {
        double[] ways = new double[(n * (n + 1) / 2) + 1];
        ways[0] = 1;
        for (int rank = 1; rank <= n; rank++)
        {
            for (int s = rank * (rank + 1) / 2; s >= rank; s--)
                ways[s] += ways[s - rank];
        }
        return new RankSumDistribution(ways);
    }

    /// <summary>Twice the smaller tail, at most one.</summary>
    internal double TwoSidedPValue(int value)
    {
        int mirrored = Math.Min(value, cumulative.Length - 1 - value);
        return Math.Min(1, 2 * cumulative[mirrored] / cumulative[^1]);
    }

    /// <summary>The smallest value whose lower tail reaches p.</summary>
    internal int Quantile(double p)
    {
        int at = 0;
        while (cumulative[at] < p * cumulative[^1] * (1 - 1e-14))
            at++;
        return at;
    }
}
