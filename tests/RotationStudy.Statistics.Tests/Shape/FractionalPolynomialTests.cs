using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Shape;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Shape;

public class FractionalPolynomialTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Shape/fractional_polynomials");

    [Fact]
    public void Powers_by_hand()
    {
        double[] row = new double[2];
        new FractionalPolynomial([-0.5, 0]).Evaluate(4, row);
        Assert.Equal([0.5, Math.Log(4)], row);
        new FractionalPolynomial([2, 2], shift: 1, scale: 2).Evaluate(5, row);
        Assert.Equal([9, 9 * Math.Log(3)], row);
        new FractionalPolynomial([0, 0]).Evaluate(Math.E, row);
        Assert.Equal([1.0, 1.0], row);
    }

    [Fact]
    public void Age_in_breast_cancer_has_the_powers_of_Sauerbrei_and_Royston_1999()
    {
        // Published powers -2 and -1/2 recalled, not re-read; deviances by survival 3.5.3.
        double[] age = Reference.Column("age");
        SurvivalTimes outcome = SurvivalTimes.RightCensored(Reference.Column("time"), [.. Reference.Column("status").Select(s => s == 1)]);
        (string, IReadOnlyList<double>)[] others =
        [
            ("hormon", Reference.Column("hormon")), ("grade", Reference.Column("grade23")), ("nodes", Reference.Column("enodes")),
            ("receptors", [.. Reference.Column("pgr").Select(p => Math.Sqrt((p + 1) / 1000))]),
        ];
        FractionalPolynomialSelection found = FractionalPolynomialSelection.Select(
            "age", age, columns => -2 * CoxRegression.Fit(outcome, DesignMatrix.FromColumns([.. columns, .. others])).LogLikelihood, shift: 0, scale: 50);
        Assert.Equal([-2.0, -0.5], found.Chosen?.Powers);
        Assert.Equal([-2.0], found.BestFirstDegree.Powers);
        Close.Relative(Reference.Number("cox/null"), found.NullDeviance, 1e-9);
        Close.Relative(Reference.Number("cox/linear"), found.LinearDeviance, 1e-9);
        Close.Relative(Reference.Number("cox/first/deviance"), found.FirstDegreeDeviance, 1e-9);
        Close.Relative(Reference.Number("cox/second/deviance"), found.SecondDegreeDeviance, 1e-9);
        Assert.Empty(found.Failed);
        Assert.Equal([4.0, 3.0, 2.0], found.Tests.Select(t => t.DegreesOfFreedom));
    }

    [Fact]
    public void An_effect_that_is_not_there_is_left_out()
    {
        double[] y = [.. Reference.Column("pgr").Select(p => Math.Log(p + 1))];
        FractionalPolynomialSelection found = Linear(Reference.Column("age"), y);
        Assert.Null(found.Chosen);
        Close.Relative(Reference.Number("linear/null"), found.NullDeviance, 1e-10);
        Close.Relative(Reference.Number("linear/linear"), found.LinearDeviance, 1e-10);
        Close.Relative(Reference.Number("linear/first/deviance"), found.FirstDegreeDeviance, 1e-10);
        Close.Relative(Reference.Number("linear/second/deviance"), found.SecondDegreeDeviance, 1e-10);
        Assert.Equal([3.0, 3.0], found.BestSecondDegree.Powers);
    }

    [Fact]
    public void A_straight_line_and_a_logarithm_are_recognised()
    {
        Random random = new(3);
        double[] x = [.. Enumerable.Range(1, 200).Select(i => i / 10.0)];
        double[] noise = [.. x.Select(_ => random.NextDouble() - 0.5)];
        Assert.Equal([1.0], Linear(x, [.. x.Select((v, i) => v + noise[i])]).Chosen?.Powers);
        Assert.Equal([0.0], Linear(x, [.. x.Select((v, i) => Math.Log(v) + (0.1 * noise[i]))]).Chosen?.Powers);
    }

    [Fact]
    public void Shift_and_scale_follow_the_smallest_gap_and_the_range()
    {
        (double shift, double scale) = FractionalPolynomial.ShiftAndScale([0, 0.5, 3, 250]);
        Assert.Equal(0.5, shift);
        Assert.Equal(100, scale, 1e-12);
        Assert.Equal((0.0, 1.0), FractionalPolynomial.ShiftAndScale([3, 5, 9]));
        Assert.Throws<TooFewDataError>(() => FractionalPolynomial.ShiftAndScale([3, 3]));
    }

    [Fact]
    public void Powers_outside_the_set_and_values_that_are_not_positive_are_refused()
    {
        Assert.Throws<InvalidInputError>(() => new FractionalPolynomial([4]));
        Assert.Throws<InvalidInputError>(() => new FractionalPolynomial([2, 1]));
        Assert.Throws<InvalidInputError>(() => new FractionalPolynomial([1], scale: 0));
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => Curve.Columns(new FractionalPolynomial([0]), "a", [1, 0]));
        Assert.Contains("not above zero", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Curves_that_cannot_be_fitted_are_listed_and_passed_over()
    {
        FractionalPolynomialSelection found = FractionalPolynomialSelection.Select(
            "x",
            [1, 2, 3, 4],
            columns => columns.Count == 2 && columns[0].Name == "x to the power 2" ? throw new TooFewDataError("no fit", "None.") : 10 - (5 * columns.Count));
        Assert.Equal(2, found.Failed.Count);
    }

    private static FractionalPolynomialSelection Linear(double[] x, double[] y)
        => FractionalPolynomialSelection.Select(
            "x",
            x,
            columns => -2 * LinearRegression.Fit(columns.Count == 0 ? DesignMatrix.InterceptOnly(x.Length) : DesignMatrix.WithIntercept(columns), y).LogLikelihood);
}
