using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Resampling;

public class PersonBootstrapTests
{
    private static readonly ReferenceCase Law = ReferenceCase.Read("Resampling/bca");
    private static readonly string[] OneName = ["correlation"];

    [Fact]
    public void The_jackknife_of_a_mean_is_its_standard_error_and_has_the_skewness_as_acceleration()
    {
        double[] y = [1, 2, 4, 9];
        JackknifeResult jackknife = PersonBootstrap.Jackknife(["mean"], Clusters.EachRow(4), r => [Mean(y, r)]);
        // By hand: mean 4, deviations -3 -2 0 5; sum of squares 38, sum of cubes 90.
        Close.Relative(Math.Sqrt(38.0 / 12), jackknife.StandardError(0), 1e-13);
        Close.Relative(90 / (6 * Math.Pow(38, 1.5)), jackknife.Acceleration(0), 1e-13);
    }

    [Fact]
    public void The_law_schools_give_the_jackknife_values_of_scipy()
    {
        JackknifeResult jackknife = PersonBootstrap.Jackknife(OneName, Clusters.EachRow(15), Correlation);
        Close.Relative(Law.Number("jackknife_se"), jackknife.StandardError(0), 1e-10);
        Close.Relative(Law.Number("acceleration"), jackknife.Acceleration(0), 1e-10);
    }

    [Fact]
    public void The_law_schools_give_the_intervals_of_scipy_within_Monte_Carlo_error()
    {
        Clusters clusters = Clusters.EachRow(15);
        BootstrapResult result = PersonBootstrap.Run(OneName, clusters, Correlation, new BootstrapOptions { Replicates = 40000, Seed = 1 });
        Close.Relative(Law.Number("correlation"), result.Original(0), 1e-12);
        Assert.InRange(result.StandardError(0) - Law.Number("bootstrap_se"), -0.003, 0.003);
        ConfidenceInterval bca = result.Bca(0, PersonBootstrap.Jackknife(OneName, clusters, Correlation));
        Assert.InRange(bca.Lower - Law.Number("bca/0"), -0.012, 0.012);
        Assert.InRange(bca.Upper - Law.Number("bca/1"), -0.004, 0.004);
        ConfidenceInterval percentile = result.Percentile(0);
        Assert.InRange(percentile.Lower - Law.Number("percentile/0"), -0.012, 0.012);
        Assert.InRange(percentile.Upper - Law.Number("percentile/1"), -0.004, 0.004);
        ConfidenceInterval basic = result.Basic(0);
        Close.Relative((2 * result.Original(0)) - percentile.Upper, basic.Lower, 1e-14);
    }

    [Fact]
    public void The_number_of_threads_changes_no_byte()
    {
        BootstrapResult one = PersonBootstrap.Run(OneName, Clusters.EachRow(15), Correlation, new BootstrapOptions { Replicates = 300, Seed = 4, Threads = 1 });
        BootstrapResult many = PersonBootstrap.Run(OneName, Clusters.EachRow(15), Correlation, new BootstrapOptions { Replicates = 300, Seed = 4, Threads = 4 });
        for (int r = 0; r < 300; r++)
            Assert.Equal(BitConverter.DoubleToInt64Bits(one.Replicate(r, 0)), BitConverter.DoubleToInt64Bits(many.Replicate(r, 0)));
    }

    [Fact]
    public void A_cluster_enters_whole_and_twice_drawn_counts_as_two()
    {
        Clusters clusters = Clusters.From<string>(["a", "b", "a", "c"]);
        PersonBootstrap.Run(["rows"], clusters, r =>
        {
            int expected = (2 * r.TimesDrawn[0]) + r.TimesDrawn[1] + r.TimesDrawn[2];
            Assert.Equal(expected, r.Rows.Length);
            Assert.Equal(3, r.Clusters.Count);
            return [r.Rows.Length];
        }, new BootstrapOptions { Replicates = 200 });
    }

    [Fact]
    public void Failures_are_counted_and_too_many_are_refused()
    {
        double[] y = [0, 0, 0, 0, 0, 0, 1, 1];
        BootstrapOptions options = new() { Replicates = 400, Seed = 2, LargestFailureShare = 0.2 };
        BootstrapResult result = PersonBootstrap.Run(["events"], Clusters.EachRow(8), r => [Events(y, r)], options);
        // No event in a resample has probability (6/8)^8 = 0.1.
        Assert.InRange(result.Failures, 20, 65);
        Assert.Equal(400, result.Failures + result.Replicates);
        NotConvergedError error = Assert.Throws<NotConvergedError>(() => PersonBootstrap.Run(["events"], Clusters.EachRow(8), r => [Events(y, r)], options with { LargestFailureShare = 0.01 }));
        Assert.Contains("of 400 resamples", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_statistic_at_the_edge_of_its_range_has_no_corrected_interval()
    {
        double[] y = [1, 2, 3, 4, 5];
        static double Never(Resample r) => r.Rows.Length > 4 && r.TimesDrawn.IndexOf(0) < 0 ? 10 : 0;
        BootstrapResult result = PersonBootstrap.Run(["edge"], Clusters.EachRow(5), r => [Never(r) + (1e-3 * Mean(y, r))], new BootstrapOptions { Replicates = 10, Seed = 3 });
        JackknifeResult jackknife = PersonBootstrap.Jackknife(["edge"], Clusters.EachRow(5), r => [Mean(y, r)]);
        Assert.Contains("one side", Assert.Throws<TooFewDataError>(() => result.Bca(0, jackknife)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void One_cluster_cannot_be_resampled()
        => Assert.Contains("cannot be resampled", Assert.Throws<TooFewDataError>(() => PersonBootstrap.Run(["x"], Clusters.From([1, 1]), _ => [1.0], new BootstrapOptions())).Message, StringComparison.Ordinal);

    private static double Mean(double[] y, Resample r)
    {
        double sum = 0;
        foreach (int i in r.Rows)
            sum += y[i];
        return sum / r.Rows.Length;
    }

    private static double Events(double[] y, Resample r)
    {
        double mean = Mean(y, r);
        return mean > 0 ? mean : throw new TooFewDataError("no events", "None.");
    }

    private static double[] Correlation(Resample r)
    {
        double[] x = Law.Column("lsat");
        double[] y = Law.Column("gpa");
        double mx = Mean(x, r);
        double my = Mean(y, r);
        double xx = 0;
        double yy = 0;
        double xy = 0;
        foreach (int i in r.Rows)
        {
            xx += (x[i] - mx) * (x[i] - mx);
            yy += (y[i] - my) * (y[i] - my);
            xy += (x[i] - mx) * (y[i] - my);
        }
        return [xy / Math.Sqrt(xx * yy)];
    }
}
