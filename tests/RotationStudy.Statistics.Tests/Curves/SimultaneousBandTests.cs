using RotationStudy.Statistics.Curves;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Curves;

public class SimultaneousBandTests
{
    private static readonly double[] Arc = [0, 10, 20, 30];

    [Fact]
    public void Mean_and_error_of_a_tiny_set_are_those_by_hand()
    {
        // Means 3 and 7; deviations -2, -1, 0, 1, 2: variance 2.5, of the mean 0.5. At the second point tenfold.
        CurveSet curves = Set([0, 1], [[1, -13], [2, -3], [3, 7], [4, 17], [5, 27]], [0, 1, 2, 3, 4]);
        SimultaneousBandResult band = SimultaneousBand.Mean(curves, new BandOptions { Draws = 200 });
        Assert.Equal([3, 7], band.Value);
        Close.Relative(Math.Sqrt(0.5), band.StandardError[0], 1e-14);
        Close.Relative(Math.Sqrt(50), band.StandardError[1], 1e-14);
        Close.Relative(3 + (band.CriticalValue * Math.Sqrt(0.5)), band.Upper[0], 1e-14);
    }

    [Fact]
    public void The_error_is_that_of_a_regression_on_a_constant_with_variance_by_cluster()
    {
        (CurveSet curves, int[] persons) = Random(30, 1);
        SimultaneousBandResult band = SimultaneousBand.Mean(curves, new BandOptions { Draws = 50 });
        for (int j = 0; j < Arc.Length; j++)
        {
            double[] y = [.. Enumerable.Range(0, curves.Rows).Select(i => curves[i, j]!.Value)];
            LinearRegressionResult fit = LinearRegression.Fit(DesignMatrix.InterceptOnly(y.Length), y);
            Close.Relative(fit.ModelBased.Values[0], band.Value[j], 1e-12);
            double naive = ClusterError(y, persons);
            Close.Relative(naive, band.StandardError[j], 1e-10);
        }
    }

    [Fact]
    public void At_a_single_point_the_critical_value_comes_close_to_that_of_t()
    {
        // Random signs of normal values: the studentised sum has tails close to those of t with n - 1 degrees of freedom.
        RandomStream random = new(3, "t");
        double[] found = [.. Enumerable.Range(0, 20).Select(k =>
        {
            double?[][] rows = [.. Enumerable.Range(0, 12).Select(_ => new double?[] { random.Normal() })];
            return SimultaneousBand.Mean(CurveSet.From([0], rows, Clusters.EachRow(12)), new BandOptions { Draws = 2000, Stream = $"band {k}" }).CriticalValue;
        })];
        Close.Relative(StudentT.Quantile(0.975, 11), found.Average(), 0.05);
    }

    [Fact]
    public void The_band_is_wider_than_a_pointwise_interval_and_narrower_than_one_for_each_point_by_itself()
    {
        (CurveSet curves, _) = Random(60, 2);
        double c = SimultaneousBand.Mean(curves, new BandOptions()).CriticalValue;
        Assert.InRange(c, StudentT.Quantile(0.975, 59), 1.05 * StudentT.Quantile(1 - (0.025 / Arc.Length), 59));
    }

    [Fact]
    public void A_difference_is_the_difference_of_means_with_both_variances()
    {
        (CurveSet curves, _) = Random(40, 3);
        bool[] marked = [.. Enumerable.Range(0, curves.Rows).Select(i => i < curves.Rows / 2)];
        int[] first = [.. Enumerable.Range(0, curves.Rows).Where(i => marked[i])];
        int[] second = [.. Enumerable.Range(0, curves.Rows).Where(i => !marked[i])];
        BandOptions options = new() { Draws = 50 };
        SimultaneousBandResult difference = SimultaneousBand.Difference(curves, marked, options);
        SimultaneousBandResult a = SimultaneousBand.Mean(curves.SelectRows(first), options);
        SimultaneousBandResult b = SimultaneousBand.Mean(curves.SelectRows(second), options);
        for (int j = 0; j < Arc.Length; j++)
        {
            Close.Relative(a.Value[j] - b.Value[j], difference.Value[j], 1e-10);
            Close.Relative(Math.Sqrt((a.StandardError[j] * a.StandardError[j]) + (b.StandardError[j] * b.StandardError[j])), difference.StandardError[j], 1e-10);
        }
    }

    [Fact]
    public void Two_sides_of_one_person_in_both_groups_are_compared_within_the_person()
    {
        // Left exceeds right by 1 in everybody, however much people differ: no error is left.
        double?[][] rows = [.. Enumerable.Range(0, 12).Select(i => new double?[] { (10.0 * (i / 2)) + (i % 2 == 0 ? 1 : 0) })];
        CurveSet curves = CurveSet.From([0], rows, Clusters.From(Enumerable.Range(0, 12).Select(i => i / 2).ToArray()));
        SimultaneousBandResult band = SimultaneousBand.Difference(curves, [.. Enumerable.Range(0, 12).Select(i => i % 2 == 0)], new BandOptions { Draws = 100 });
        Close.Relative(1, band.Value[0], 1e-12);
        Assert.True(band.StandardError[0] < 1e-12);
    }

    [Fact]
    public void Gaps_are_left_out_at_their_point_and_too_many_are_refused()
    {
        double?[][] rows = [.. Enumerable.Range(0, 8).Select(i => new double?[] { i, i < 2 ? null : i })];
        SimultaneousBandResult band = SimultaneousBand.Mean(CurveSet.From([0, 10], rows, Clusters.EachRow(8)), new BandOptions { Draws = 50 });
        Assert.Equal([3.5, 4.5], band.Value);
        double?[][] few = [.. Enumerable.Range(0, 8).Select(i => new double?[] { i, i < 4 ? null : i })];
        TooFewDataError error = Assert.Throws<TooFewDataError>(() => SimultaneousBand.Mean(CurveSet.From([0, 10], few, Clusters.EachRow(8)), new BandOptions()));
        Assert.Contains("4 clusters have a value at 10", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Threads_and_the_order_of_persons_leave_the_estimate_alone()
    {
        (CurveSet curves, _) = Random(20, 5);
        SimultaneousBandResult one = SimultaneousBand.Mean(curves, new BandOptions { Draws = 300, Threads = 1 });
        Assert.Equal(one.Upper, SimultaneousBand.Mean(curves, new BandOptions { Draws = 300, Threads = 4 }).Upper);
        SimultaneousBandResult reversed = SimultaneousBand.Mean(curves.SelectRows([.. Enumerable.Range(0, curves.Rows).Reverse()]), new BandOptions { Draws = 300 });
        for (int j = 0; j < Arc.Length; j++)
            Close.Relative(one.StandardError[j], reversed.StandardError[j], 1e-12);
    }

    [Fact]
    public void A_grid_that_does_not_increase_and_values_that_are_not_finite_are_refused()
    {
        Assert.Contains("from 1 to 1", Assert.Throws<InvalidInputError>(() => Set([1, 1], [[1, 2]], [0])).Message, StringComparison.Ordinal);
        Assert.Contains("curve 0", Assert.Throws<InvalidInputError>(() => Set([1, 2], [[1, double.NaN]], [0])).Message, StringComparison.Ordinal);
    }

    private static double ClusterError(double[] y, int[] persons)
    {
        double mean = y.Average();
        double[] sums = [.. persons.Select((p, i) => (p, d: y[i] - mean)).GroupBy(v => v.p).Select(g => g.Sum(v => v.d))];
        return Math.Sqrt(sums.Length / (sums.Length - 1.0) * sums.Sum(s => s * s)) / y.Length;
    }

    private static CurveSet Set(double[] grid, double[][] rows, int[] clusters)
        => CurveSet.From(grid, [.. rows.Select(r => (IReadOnlyList<double?>)[.. r.Select(v => (double?)v)])], Clusters.From(clusters));

    private static (CurveSet Curves, int[] Persons) Random(int persons, ulong seed)
    {
        RandomStream random = new(seed, "curves");
        List<double?[]> rows = [];
        List<int> of = [];
        for (int p = 0; p < persons; p++)
        {
            double own = random.Normal();
            for (int side = 0; side < 2; side++)
            {
                double level = own + random.Normal();
                rows.Add([.. Arc.Select(a => (double?)(level + (a / 10) + (0.5 * random.Normal())))]);
                of.Add(p);
            }
        }
        return (CurveSet.From(Arc, [.. rows], Clusters.From(of)), [.. of]);
    }
}
