namespace RotationStudy.Statistics.Tests;

public class DesignMatrixTests
{
    [Fact]
    public void A_value_that_is_no_number_is_refused_with_its_row_and_column()
    {
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => DesignMatrix.FromColumns(("age", [11.0, double.NaN])));
        Assert.Equal(1, error.Row);
        Assert.Equal("age", error.Column);
    }

    [Fact]
    public void The_intercept_stands_first_and_columns_keep_their_order()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1.0, 2.0]), ("b", [3.0, 4.0]));
        Assert.Equal([DesignMatrix.InterceptName, "a", "b"], x.Names);
        Assert.Equal([3.0, 4.0], x.Column(2).ToArray());
    }

    [Fact]
    public void A_name_given_twice_is_refused()
        => Assert.Throws<InvalidInputError>(() => DesignMatrix.FromColumns(("a", [1.0]), ("a", [2.0])));
}
