using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Shape;

namespace RotationStudy.Statistics.Tests.Shape;

public class CurveTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Shape/spline_curve");

    [Fact]
    public void A_spline_in_a_linear_regression_is_that_of_the_reference_library()
    {
        (RestrictedCubicSpline spline, LinearRegressionResult fit) = SplineFit();
        for (int k = 0; k < 6; k++)
            Close.Relative(Reference.Number($"coef/{k}"), fit.ModelBased.Values[k], 1e-9, fit.ModelBased.Terms[k]);
        TestResult bend = Curve.NonlinearityTest(spline, fit.ModelBased, "lwt");
        Close.Relative(Reference.Number("nonlinear/F"), bend.Statistic, 1e-9);
        Close.Relative(Reference.Number("nonlinear/p"), bend.PValue, 1e-8);
        TestResult any = Curve.AssociationTest(spline, fit.ModelBased, "lwt");
        Close.Relative(Reference.Number("association/F"), any.Statistic, 1e-9);
        Close.Relative(Reference.Number("association/p"), any.PValue, 1e-8);
    }

    [Fact]
    public void The_curve_relative_to_a_reference_value_has_the_pointwise_intervals_of_the_reference_library()
    {
        (RestrictedCubicSpline spline, LinearRegressionResult fit) = SplineFit();
        IReadOnlyList<CurvePoint> curve = Curve.Relative(spline, fit.ModelBased, "lwt", [90, 110, 130, 180, 240, 120], 120);
        for (int i = 0; i < 5; i++)
        {
            Close.Relative(Reference.Number($"value/{i}"), curve[i].Difference.Value, 1e-8);
            Close.Relative(Reference.Number($"se/{i}"), curve[i].Difference.StandardError, 1e-9);
            Close.Relative(Reference.Number($"lower/{i}"), curve[i].Difference.Interval.Lower, 1e-8);
            Close.Relative(Reference.Number($"upper/{i}"), curve[i].Difference.Interval.Upper, 1e-8);
        }
        Assert.Equal(0, curve[5].Difference.Value);
        Assert.Equal(new ConfidenceInterval(0, 0, 0.95), curve[5].Difference.Interval);
    }

    [Fact]
    public void Moving_and_rescaling_the_quantity_moves_the_knots_and_leaves_the_test_alone()
    {
        (RestrictedCubicSpline spline, LinearRegressionResult fit) = SplineFit();
        double[] moved = [.. Reference.Column("lwt").Select(v => (v - 50) * 0.4536)];
        (RestrictedCubicSpline other, LinearRegressionResult again) = SplineFit(moved);
        Close.Relative((spline.Knots[1] - 50) * 0.4536, other.Knots[1], 1e-12);
        Close.Relative(Curve.NonlinearityTest(spline, fit.ModelBased, "lwt").Statistic, Curve.NonlinearityTest(other, again.ModelBased, "lwt").Statistic, 1e-8);
    }

    [Fact]
    public void A_polynomial_is_the_same_curve_whatever_its_centre()
    {
        double[] age = Reference.Column("age");
        double[] lwt = Reference.Column("lwt");
        foreach (Polynomial cubic in new[] { new Polynomial(3, 130, 30), new Polynomial(3, 100, 10) })
        {
            LinearRegressionResult fit = LinearRegression.Fit(DesignMatrix.WithIntercept([.. Curve.Columns(cubic, "lwt", lwt), ("age", age)]), Reference.Column("bwt"));
            for (int i = 0; i < 5; i++)
                Close.Relative(Reference.Number($"cubic_fitted_1to5/{i}"), fit.Fitted[i], 1e-10);
            Close.Relative(Reference.Number("cubic_nonlinear_F"), Curve.NonlinearityTest(cubic, fit.ModelBased, "lwt").Statistic, 1e-8);
        }
    }

    [Fact]
    public void A_product_column_gives_the_interaction_of_the_reference_library()
    {
        IReadOnlyList<(string, IReadOnlyList<double>)> lwt = [("lwt", Reference.Column("lwt"))];
        IReadOnlyList<(string, IReadOnlyList<double>)> smoke = [("smoke", Reference.Column("smoke"))];
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.WithIntercept([.. lwt, .. smoke, .. Interaction.Columns(lwt, smoke), ("age", Reference.Column("age"))]), Reference.Column("bwt"));
        Close.Relative(Reference.Number("interaction"), fit.ModelBased.Values[fit.ModelBased.IndexOf("lwt × smoke")], 1e-9);
    }

    [Fact]
    public void Products_of_two_curves_take_every_pair_of_columns_once()
    {
        IReadOnlyList<(string Name, IReadOnlyList<double> Values)> products = Interaction.Columns(
            Curve.Columns(new Polynomial(2), "a", [2.0, 3.0]), Curve.Columns(new Polynomial(2), "b", [5.0, 7.0]));
        Assert.Equal(["a × b", "a × b to the power 2", "a to the power 2 × b", "a to the power 2 × b to the power 2"], products.Select(c => c.Name));
        Assert.Equal([20.0, 63.0], products[2].Values);
        Assert.Throws<InvalidInputError>(() => Interaction.Columns([("a", [1.0])], [("b", [1.0, 2.0])]));
    }

    [Fact]
    public void A_missing_value_is_refused_with_its_row_and_a_line_has_no_bend_to_test()
    {
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => Curve.Columns(new Polynomial(2), "a", [1, double.NaN])).Row);
        LinearRegressionResult fit = LinearRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2, 4, 5])), [1, 3, 2, 5]);
        Assert.Throws<InvalidInputError>(() => Curve.NonlinearityTest(new Polynomial(1), fit.ModelBased, "a"));
        Assert.Throws<InvalidInputError>(() => new Polynomial(0));
    }

    private static (RestrictedCubicSpline Spline, LinearRegressionResult Fit) SplineFit(double[]? values = null)
    {
        double[] lwt = values ?? Reference.Column("lwt");
        RestrictedCubicSpline spline = RestrictedCubicSpline.AtQuantiles(lwt);
        DesignMatrix x = DesignMatrix.WithIntercept([.. Curve.Columns(spline, "lwt", lwt), ("age", Reference.Column("age")), ("smoke", Reference.Column("smoke"))]);
        return (spline, LinearRegression.Fit(x, Reference.Column("bwt")));
    }
}
