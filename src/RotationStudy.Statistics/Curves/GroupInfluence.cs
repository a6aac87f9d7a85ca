namespace RotationStudy.Statistics.Curves;

/// <summary>Mean curve of a group of curves and the influence of each cluster on it, point by point; gaps are left out at their point.</summary>
/// <remarks>The variance of the mean at a point is G/(G-1) times the sum of squared influences, G the clusters with a value there.</remarks>
internal sealed class GroupInfluence
{
    private readonly double[] influence;
    private readonly bool[] present;
    private readonly int points;

    private GroupInfluence(int points, int clusters)
    {
        this.points = points;
        influence = new double[clusters * points];
        present = new bool[clusters * points];
        Mean = new double[points];
        ClusterCount = new int[points];
    }

    internal double[] Mean { get; }

    /// <summary>Clusters with a value at each point.</summary>
    internal int[] ClusterCount { get; }

    /// <summary>Influence of a cluster at a point; zero where it has no value.</summary>
    internal double Of(int cluster, int point) => influence[(cluster * points) + point];

    internal bool Has(int cluster, int point) => present[(cluster * points) + point];

    /// <summary>The factor that makes the sum of squares unbiased, as a root: influences times it add up to the variance.</summary>
    internal double Factor(int point) => Math.Sqrt(ClusterCount[point] / (ClusterCount[point] - 1.0));

    /// <summary>The group of the rows marked true.</summary>
    internal static GroupInfluence Of(CurveSet curves, ReadOnlySpan<bool> member)
    {
        GroupInfluence group = new(curves.Points, curves.Clusters.Count);
        ReadOnlySpan<int> clusterOfRow = curves.Clusters.ClusterOfRow;
        for (int j = 0; j < curves.Points; j++)
        {
            double sum = 0;
            int n = 0;
            for (int i = 0; i < curves.Rows; i++)
            {
                if (!member[i] || double.IsNaN(curves.At(i, j)))
                    continue;
                sum += curves.At(i, j);
                n++;
            }
            if (n == 0)
                continue;
            double mean = sum / n;
            group.Mean[j] = mean;
            for (int i = 0; i < curves.Rows; i++)
            {
                if (!member[i] || double.IsNaN(curves.At(i, j)))
                    continue;
                int at = (clusterOfRow[i] * curves.Points) + j;
                group.influence[at] += (curves.At(i, j) - mean) / n;
                group.ClusterCount[j] += group.present[at] ? 0 : 1;
                group.present[at] = true;
            }
        }
        return group;
    }
}
