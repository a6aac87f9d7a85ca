namespace RotationStudy.Statistics.Survival;

/// <summary>Influences of clusters that are linear in a few functions of time, kept so that their sum of squares is at hand at every time.</summary>
/// <remarks>
/// Cluster c has influence f(t)'z_c, where z_c changes only when one of its rows enters, leaves or has an event, and f(t) is
/// the same for all. With S = sum of z z' kept up to date, the variance f'S f costs the same at every time, whatever
/// the number of clusters: a whole curve takes O(n log n) instead of (event times) x (clusters).
/// </remarks>
internal sealed class ClusterInfluence(int clusters, int size)
{
    private readonly double[] z = new double[clusters * size];
    private readonly double[] squares = new double[size * size];

    internal void Add(int cluster, int component, double change)
    {
        if (change == 0)
            return;
        Span<double> own = z.AsSpan(cluster * size, size);
        for (int j = 0; j < size; j++)
        {
            squares[(component * size) + j] += change * own[j];
            squares[(j * size) + component] += change * own[j];
        }
        squares[(component * size) + component] += change * change;
        own[component] += change;
    }

    /// <summary>Influence f'z of one cluster.</summary>
    internal double Of(int cluster, ReadOnlySpan<double> f)
    {
        double sum = 0;
        for (int j = 0; j < size; j++)
            sum += f[j] * z[(cluster * size) + j];
        return sum;
    }

    /// <summary>Sum over clusters of (f'z)^2.</summary>
    internal double Variance(ReadOnlySpan<double> f)
    {
        double sum = 0;
        for (int i = 0; i < size; i++)
        {
            double inner = 0;
            for (int j = 0; j < size; j++)
                inner += squares[(i * size) + j] * f[j];
            sum += f[i] * inner;
        }
        return Math.Max(0, sum);
    }
}
