using RotationStudy.Statistics.Shape;

namespace RotationStudy.Statistics.Tests.Shape;

public class RestrictedCubicSplineTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Shape/rcs_basis");

    [Fact]
    public void The_basis_is_that_of_Harrell()
    {
        RestrictedCubicSpline spline = new([1, 4, 7, 10]);
        double[] x = Reference.Column("x");
        double[] row = new double[3];
        for (int i = 0; i < x.Length; i++)
        {
            spline.Evaluate(x[i], row);
            for (int j = 0; j < 3; j++)
            {
                Close.Relative(Reference.Number($"cases/basis/norm2/{i}/{j}"), row[j], 1e-13, $"x = {x[i]}, column {j}");
                Close.Relative(Reference.Number($"cases/basis/norm0/{i}/{j}"), j == 0 ? row[j] : row[j] * 81, 1e-13, "not divided by the squared range");
            }
        }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Default_knots_lie_at_the_quantiles_of_Harrells_table(int count)
    {
        RestrictedCubicSpline spline = RestrictedCubicSpline.AtQuantiles(ReferenceCase.Read("Binary/birthwt").Column("lwt"), count);
        for (int j = 0; j < count; j++)
            Close.Relative(Reference.Number($"cases/default_knots_birthwt_lwt/nk{count}/{j}"), spline.Knots[j], 1e-12);
    }

    [Fact]
    public void Six_and_seven_knots_lie_where_the_table_says()
    {
        // Shares printed in Harrell's table of default knots (recalled, not re-read); values 0 to 1000 make a quantile its share.
        double[] values = [.. Enumerable.Range(0, 10001).Select(i => i / 10000.0)];
        Assert.Equal([0.05, 0.23, 0.41, 0.59, 0.77, 0.95], RestrictedCubicSpline.AtQuantiles(values, 6).Knots.Select(k => Math.Round(k, 4)));
        Assert.Equal([0.025, 0.1833, 0.3417, 0.5, 0.6583, 0.8167, 0.975], RestrictedCubicSpline.AtQuantiles(values, 7).Knots.Select(k => Math.Round(k, 4)));
    }

    [Fact]
    public void Beyond_the_outer_knots_the_curve_is_a_straight_line()
    {
        RestrictedCubicSpline spline = new([1, 4, 7, 10]);
        double[][] rows = [.. new[] { 11.0, 12, 13, -3, -2, -1 }.Select(x => Row(spline, x))];
        for (int j = 0; j < 3; j++)
        {
            Assert.True(Math.Abs(rows[0][j] - (2 * rows[1][j]) + rows[2][j]) < 1e-12);
            Assert.True(Math.Abs(rows[3][j] - (2 * rows[4][j]) + rows[5][j]) < 1e-12);
        }
    }

    [Fact]
    public void Coinciding_knots_too_few_knots_and_a_number_without_default_are_refused()
    {
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => RestrictedCubicSpline.AtQuantiles([1, 1, 1, 1, 2], 3));
        Assert.Contains("does not increase", error.Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => new RestrictedCubicSpline([1, 2]));
        Assert.Throws<InvalidInputError>(() => RestrictedCubicSpline.AtQuantiles([1, 2, 3], 8));
        Assert.Throws<InvalidInputError>(() => RestrictedCubicSpline.AtQuantiles([1, double.NaN, 3], 3));
    }

    private static double[] Row(RestrictedCubicSpline spline, double x)
    {
        double[] row = new double[spline.Dimension];
        spline.Evaluate(x, row);
        return row;
    }
}
