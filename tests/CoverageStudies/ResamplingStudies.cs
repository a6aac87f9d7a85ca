using RotationStudy.Statistics;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Bootstrap of persons: the mean of a skewed outcome, and the correlation of two outcomes, on two knees per person.</summary>
internal static class ResamplingStudies
{
    private const int Replicates = 999;
    private const double Correlation = 0.5;

    private static readonly string[] Names = ["mean", "correlation"];

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in new[] { 30, 200 })
        {
            foreach (string kind in new[] { "percentile", "basic", "BCa" })
            {
                studies.Add(new($"mean of a log-normal outcome, {kind}", persons, Math.Exp(0.5), r => Replicate(r, persons, kind, 0)));
                studies.Add(new($"correlation of two outcomes, {kind}", persons, Correlation, r => Replicate(r, persons, kind, 1)));
            }
        }
        return studies;
    }

    private static Estimate Replicate(Random random, int persons, string kind, int component)
    {
        RandomStream stream = new((ulong)random.NextInt64(), "resampling");
        double[] skewed = new double[2 * persons];
        double[] first = new double[2 * persons];
        double[] second = new double[2 * persons];
        int[] cluster = new int[2 * persons];
        for (int row = 0; row < cluster.Length; row += 2)
        {
            (double u, double v, double w) = (stream.Normal(), stream.Normal(), stream.Normal());
            for (int k = row; k < row + 2; k++)
            {
                cluster[k] = row / 2;
                skewed[k] = Math.Exp(Half(u, stream));
                double common = Half(v, stream);
                first[k] = common;
                second[k] = (Correlation * common) + (Math.Sqrt(1 - (Correlation * Correlation)) * Half(w, stream));
            }
        }
        Clusters clusters = Clusters.From(cluster);
        Func<Resample, IReadOnlyList<double>> statistic = r => [Mean(skewed, r), Correlate(first, second, r)];
        BootstrapResult result = PersonBootstrap.Run(Names, clusters, statistic, new BootstrapOptions { Replicates = Replicates, Seed = stream.Bits(), Threads = 1 });
        ConfidenceInterval interval = kind switch
        {
            "percentile" => result.Percentile(component),
            "basic" => result.Basic(component),
            _ => result.Bca(component, PersonBootstrap.Jackknife(Names, clusters, statistic, threads: 1)),
        };
        return new Estimate(Names[component], result.Original(component), result.StandardError(component), double.PositiveInfinity, interval, 1);
    }

    /// <summary>A normal number of variance one, half of it shared within the person.</summary>
    private static double Half(double shared, RandomStream stream) => Math.Sqrt(0.5) * (shared + stream.Normal());

    private static double Mean(double[] y, Resample resample)
    {
        double sum = 0;
        foreach (int i in resample.Rows)
            sum += y[i];
        return sum / resample.Rows.Length;
    }

    private static double Correlate(double[] x, double[] y, Resample resample)
    {
        double mx = Mean(x, resample);
        double my = Mean(y, resample);
        (double xx, double yy, double xy) = (0, 0, 0);
        foreach (int i in resample.Rows)
        {
            xx += (x[i] - mx) * (x[i] - mx);
            yy += (y[i] - my) * (y[i] - my);
            xy += (x[i] - mx) * (y[i] - my);
        }
        return xy / Math.Sqrt(xx * yy);
    }
}
