namespace RotationStudy.Statistics.Resampling;

/// <summary>Values of a statistic with one cluster left out at a time.</summary>
public sealed class JackknifeResult
{
    private readonly double[][] values;

    internal JackknifeResult(IReadOnlyList<string> names, double[][] values)
    {
        Names = names;
        this.values = values;
    }

    /// <summary>Names of the components.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Number of clusters.</summary>
    public int Clusters => values.Length;

    /// <summary>The value of a component without one cluster.</summary>
    public double Without(int cluster, int component) => values[cluster][component];

    /// <summary>The jackknife standard error: the root of (G-1)/G times the sum of squares about the mean.</summary>
    public double StandardError(int component)
    {
        double mean = Mean(component);
        double sum = 0;
        foreach (double[] v in values)
            sum += (v[component] - mean) * (v[component] - mean);
        return Math.Sqrt(sum * (Clusters - 1) / Clusters);
    }

    /// <summary>The acceleration of Efron (1987): the sum of cubed influences over six times the 3/2 power of their sum of squares; zero where nothing varies.</summary>
    public double Acceleration(int component)
    {
        double mean = Mean(component);
        double squares = 0;
        double cubes = 0;
        foreach (double[] v in values)
        {
            double influence = mean - v[component];
            squares += influence * influence;
            cubes += influence * influence * influence;
        }
        return squares == 0 ? 0 : cubes / (6 * Math.Pow(squares, 1.5));
    }

    private double Mean(int component)
    {
        double sum = 0;
        foreach (double[] v in values)
            sum += v[component];
        return sum / Clusters;
    }
}
