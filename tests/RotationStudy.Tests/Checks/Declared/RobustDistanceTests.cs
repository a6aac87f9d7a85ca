using RotationStudy.Study.Checks.Declared;

namespace RotationStudy.Tests.Checks.Declared;

/// <summary>Distances that outlying rows do not move.</summary>
public sealed class RobustDistanceTests
{
    [Fact]
    public void One_column_is_median_and_median_absolute_deviation()
    {
        // By hand: median 3, absolute deviations 2 1 0 1 97, their median 1; 97 / 1.4826 squared.
        double[] squares = RobustDistance.Squares([1, 2, 3, 4, 100], 1)!;
        Assert.Equal(Math.Pow(97 / 1.4826, 2), squares[4], 1e-9 * squares[4]);
        Assert.Equal(0, squares[2]);
    }

    [Fact]
    public void Rescaling_and_shifting_a_column_changes_nothing()
    {
        double[] values = Cloud(400);
        double[] other = [.. values.Select((v, i) => i % 2 == 0 ? (10 * v) - 7 : v)];
        double[] a = RobustDistance.Squares(values, 2)!;
        double[] b = RobustDistance.Squares(other, 2)!;
        for (int i = 0; i < a.Length; i++)
            Assert.Equal(a[i], b[i], 1e-8 * Math.Max(1, a[i]));
    }

    [Fact]
    public void Outlying_rows_do_not_hide_each_other()
    {
        // A tenth of the rows lies together off the line of the others, within the range of each column.
        double[] values = Cloud(400);
        for (int i = 0; i < 40; i++)
            (values[2 * i], values[(2 * i) + 1]) = (2 + (0.01 * i), -2);
        double[] squares = RobustDistance.Squares(values, 2)!;
        Assert.True(squares.Take(40).Min() > 100, $"{squares.Take(40).Min()}");
        Assert.True(squares.Skip(40).Max() < 40, $"{squares.Skip(40).Max()}");
    }

    [Fact]
    public void Columns_without_spread_or_that_determine_each_other_are_not_judged()
    {
        Assert.Null(RobustDistance.Squares([1, 1, 1, 1, 5], 1));
        Assert.Null(RobustDistance.Squares([.. Enumerable.Range(0, 60).SelectMany(i => new double[] { i, 2 * i })], 2));
    }

    /// <summary>Rows along a diagonal, made without chance: two columns with correlation near one.</summary>
    private static double[] Cloud(int rows)
    {
        double[] values = new double[2 * rows];
        for (int i = 0; i < rows; i++)
        {
            double along = ((i * 0.6180339887) % 1 * 4) - 2;
            double across = ((i * 0.7548776662) % 1) - 0.5;
            values[2 * i] = along;
            values[(2 * i) + 1] = along + (0.6 * across);
        }
        return values;
    }
}
