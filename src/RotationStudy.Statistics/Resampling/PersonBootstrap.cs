namespace RotationStudy.Statistics.Resampling;

/// <summary>How a bootstrap is run.</summary>
public sealed record BootstrapOptions
{
    /// <summary>Number of resamples; 2000 because the tails of a 95% interval then rest on 50 values each.</summary>
    public int Replicates { get; init; } = 2000;

    /// <summary>The study's seed.</summary>
    public ulong Seed { get; init; }

    /// <summary>The name of the random stream; one name per use.</summary>
    public string Stream { get; init; } = "bootstrap";

    /// <summary>Threads to use at most; -1 for all cores. The result does not depend on it.</summary>
    public int Threads { get; init; } = -1;

    /// <summary>The share of resamples in which the statistic may fail before the bootstrap is refused.</summary>
    public double LargestFailureShare { get; init; } = 0.1;
}

/// <summary>Bootstrap of whole clusters: a person enters a resample with all rows or not at all.</summary>
/// <remarks>
/// <para>G clusters are drawn with replacement from the G observed (the cluster, or case, bootstrap); the statistic is
/// computed on every resample. Nothing is assumed about the dependence inside a cluster; clusters must be independent.</para>
/// <para>Each replicate has a random stream of its own index, so the values are the same bytes whatever the number of
/// threads. A replicate whose statistic throws a <see cref="StatisticsError"/> (separation, no events) is left out,
/// counted and reported; more than <see cref="BootstrapOptions.LargestFailureShare"/> of them is an error, because the
/// replicates left would be a selection. Under about 20 clusters, or for a statistic that a single cluster decides, no
/// bootstrap interval keeps its level.</para>
/// <para><b>Sources.</b> Efron B, J Am Stat Assoc 1987;82:171-185; Davison AC, Hinkley DV, Bootstrap Methods and their
/// Application, 1997, sec. 3.8 (clusters) and ch. 5 (intervals). <b>Checked against</b> Resampling/bca.</para>
/// </remarks>
public static class PersonBootstrap
{
    /// <summary>Runs the bootstrap of a statistic with several components.</summary>
    /// <param name="names">Names of the components.</param>
    /// <param name="clusters">Which rows belong together.</param>
    /// <param name="statistic">Computes the components on a resample; called from several threads at once.</param>
    /// <param name="options">Replicates, seed, stream, threads.</param>
    /// <exception cref="TooFewDataError">Fewer than two clusters.</exception>
    /// <exception cref="NotConvergedError">The statistic failed in too many resamples.</exception>
    public static BootstrapResult Run(IReadOnlyList<string> names, Clusters clusters, Func<Resample, IReadOnlyList<double>> statistic, BootstrapOptions options)
    {
        if (clusters.Count < 2)
            throw new TooFewDataError($"{clusters.Count} cluster cannot be resampled", "A bootstrap needs two clusters at the very least, and about 20 to keep its level.");
        if (options.Replicates < 1)
            throw new InvalidInputError($"{options.Replicates} replicates were asked for", "Ask for 2000.");
        double[] original = Checked(statistic(Resample.Original(clusters)), names);
        double[]?[] values = new double[]?[options.Replicates];
        Parallel.For(0, options.Replicates, new ParallelOptions { MaxDegreeOfParallelism = options.Threads }, r =>
        {
            RandomStream random = new(options.Seed, options.Stream, r);
            int[] drawn = new int[clusters.Count];
            for (int g = 0; g < drawn.Length; g++)
                drawn[g] = random.Below(clusters.Count);
            try
            {
                values[r] = Checked(statistic(Resample.Of(clusters, drawn)), names);
            }
            catch (StatisticsError)
            {
                values[r] = null;
            }
        });
        double[][] kept = [.. values.OfType<double[]>()];
        int failures = options.Replicates - kept.Length;
        if (failures > options.LargestFailureShare * options.Replicates)
            throw new NotConvergedError($"the statistic failed in {failures} of {options.Replicates} resamples", "Use a method that exists on sparse resamples, such as penalised likelihood.", options.Replicates);
        return new BootstrapResult(names, original, kept, failures);
    }

    /// <summary>Leaves out one cluster at a time: the values of the statistic, for the acceleration of BCa and for jackknife errors.</summary>
    /// <exception cref="TooFewDataError">Fewer than three clusters.</exception>
    public static JackknifeResult Jackknife(IReadOnlyList<string> names, Clusters clusters, Func<Resample, IReadOnlyList<double>> statistic, int threads = -1)
    {
        int count = clusters.Count;
        if (count < 3)
            throw new TooFewDataError($"{count} clusters are too few to leave one out", "A jackknife needs three clusters at the very least.");
        double[][] values = new double[count][];
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads }, left =>
        {
            int[] drawn = new int[count - 1];
            for (int g = 0; g < drawn.Length; g++)
                drawn[g] = g < left ? g : g + 1;
            values[left] = Checked(statistic(Resample.Of(clusters, drawn)), names);
        });
        return new JackknifeResult(names, values);
    }

    private static double[] Checked(IReadOnlyList<double> values, IReadOnlyList<string> names)
    {
        Require.SameLength(values.Count, names.Count, "statistic");
        double[] copy = [.. values];
        Require.Finite(copy, "statistic");
        return copy;
    }
}
