using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Tests.Solvers;

public class TallQrTests
{
    [Theory]
    [InlineData(5)]
    [InlineData(256)]
    [InlineData(257)]
    [InlineData(1000)]
    public void The_inverse_triangle_is_a_root_of_the_inverse_of_the_weighted_cross_product(int rows)
    {
        Random random = new(rows);
        double[] a = [.. Enumerable.Range(0, rows).Select(_ => random.NextDouble())];
        double[] b = [.. Enumerable.Range(0, rows).Select(_ => random.NextDouble())];
        double[] w = [.. Enumerable.Range(0, rows).Select(i => i % 4 == 3 ? 0 : 0.1 + random.NextDouble())];
        DesignMatrix x = DesignMatrix.WithIntercept(("a", a), ("b", b));
        double[] n = TallQr.Factor(x, w, a).InverseTriangle();
        double[] information = new double[9];
        CrossProduct.Weighted(x, w, information);
        double[] expected = SmallCholesky.Factor(information, 3, x.Names).Inverse();
        for (int i = 0; i < 3; i++)
        {
            for (int j = 0; j < 3; j++)
                Close.Relative(expected[(i * 3) + j], CrossProduct.Dot(n.AsSpan(i * 3, 3), n.AsSpan(j * 3, 3)), 1e-9);
        }
    }

    [Fact]
    public void An_outcome_that_is_a_column_is_solved_exactly()
    {
        double[] a = [1, 4, 2, 8, 5, 7];
        double[] b = TallQr.Factor(DesignMatrix.WithIntercept(("a", a)), [], a).Solve();
        Assert.True(Math.Abs(b[0]) < 1e-14);
        Close.Relative(1, b[1], 1e-14);
    }

    [Fact]
    public void Every_dependent_column_is_named_whatever_its_scale()
    {
        double[] a = [1, 2, 3, 4, 5, 7];
        RankDeficientError error = Assert.Throws<RankDeficientError>(() => TallQr.Factor(
            DesignMatrix.FromColumns(("a", a), ("zero", new double[6]), ("b", [1, 0, 2, 5, 1, 3]), ("a in other units", [.. a.Select(v => v * 1e9)])), [], a));
        Assert.Equal(["zero", "a in other units"], error.Columns);
    }
}
