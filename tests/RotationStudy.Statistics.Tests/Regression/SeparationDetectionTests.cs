using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class SeparationDetectionTests
{
    [Fact]
    public void Overlapping_groups_are_not_separated()
        => Assert.Empty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", [1, 2, 3, 4, 5, 6])), [0, 1, 0, 1, 0, 1]));

    [Fact]
    public void A_category_without_events_is_quasi_separation_by_that_category()
        => Assert.Equal(
            ["grade 3"],
            SeparationDetection.SeparatedColumns(
                DesignMatrix.WithIntercept(("grade 2", [0, 0, 1, 1, 0, 0]), ("grade 3", [0, 0, 0, 0, 1, 1]), ("age", [12, 14, 13, 15, 13, 12])), [0, 1, 1, 0, 0, 0]));

    [Fact]
    public void Two_columns_that_separate_only_together_are_both_named()
    {
        // The event happens exactly where a + b > 10.5; neither column alone splits it.
        double[] a = [1, 9, 5, 8, 2, 6, 3, 7, 4, 10];
        double[] b = [9, 1, 5, 3, 8, 5, 9, 2, 7, 2];
        double[] y = [.. a.Zip(b, (u, v) => u + v > 10.5 ? 1.0 : 0)];
        IReadOnlyList<string> named = SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", a), ("b", b)), y);
        Assert.Contains("a", named);
        Assert.Contains("b", named);
    }

    [Fact]
    public void One_row_between_the_groups_makes_all_the_difference()
    {
        double[] a = [1, 2, 3, 4, 5, 6];
        Assert.NotEmpty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", a)), [0, 0, 0, 1, 1, 1]));
        Assert.NotEmpty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", [1, 2, 3, 3, 5, 6])), [0, 0, 0, 1, 1, 1]));
        Assert.Empty(SeparationDetection.SeparatedColumns(DesignMatrix.WithIntercept(("a", a)), [0, 0, 1, 0, 1, 1]));
    }

    [Fact]
    public void The_programme_agrees_with_divergence_of_the_likelihood_on_random_small_data()
    {
        // With separation a vanishing ridge lets the linear predictor grow without bound; without, it settles.
        Random random = new(11);
        int separated = 0;
        for (int trial = 0; trial < 300; trial++)
        {
            int n = random.Next(8, 25);
            double[] a = [.. Enumerable.Range(0, n).Select(_ => (double)random.Next(4))];
            double[] b = [.. Enumerable.Range(0, n).Select(_ => random.NextDouble())];
            double[] c = [.. Enumerable.Range(0, n).Select(_ => (double)random.Next(2))];
            double[] y = [.. Enumerable.Range(0, n).Select(i => random.NextDouble() < 1 / (1 + Math.Exp(2 - a[i] - b[i])) ? 1.0 : 0)];
            DesignMatrix x = DesignMatrix.WithIntercept(("a", a), ("b", b), ("c", c));
            if (y.Sum() is 0 || y.Sum() == n || a.Distinct().Count() < 2 || c.Distinct().Count() < 2)
                continue;
            bool named = SeparationDetection.SeparatedColumns(x, y).Count > 0;
            separated += named ? 1 : 0;
            Assert.Equal(named, Reach(x, y, 1e-12) - Reach(x, y, 1e-8) > 4);
        }
        Assert.InRange(separated, 30, 270);
    }

    // The largest linear predictor under a small ridge. Under separation it grows like the log of one over the ridge.
    private static double Reach(DesignMatrix x, double[] y, double ridge)
    {
        double[] b = new double[x.Columns];
        for (int iteration = 0; iteration < 100; iteration++)
        {
            double[] gradient = new double[b.Length];
            double[,] h = new double[b.Length, b.Length];
            for (int i = 0; i < x.Rows; i++)
            {
                double eta = 0;
                for (int j = 0; j < b.Length; j++)
                    eta += x[i, j] * b[j];
                double m = 1 / (1 + Math.Exp(-eta));
                for (int j = 0; j < b.Length; j++)
                {
                    gradient[j] += x[i, j] * (y[i] - m);
                    for (int k = 0; k < b.Length; k++)
                        h[j, k] += x[i, j] * x[i, k] * m * (1 - m);
                }
            }
            for (int j = 0; j < b.Length; j++)
            {
                gradient[j] -= ridge * b[j];
                h[j, j] += ridge;
            }
            double[] step = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.DenseOfArray(h)
                .Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.DenseOfArray(gradient)).ToArray();
            double longest = step.Max(Math.Abs);
            for (int j = 0; j < b.Length; j++)
                b[j] += step[j] * Math.Min(1, 3 / longest);
        }
        double reach = 0;
        for (int i = 0; i < x.Rows; i++)
        {
            double eta = 0;
            for (int j = 0; j < b.Length; j++)
                eta += x[i, j] * b[j];
            reach = Math.Max(reach, Math.Abs(eta));
        }
        return reach;
    }
}
