using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Shape;

/// <summary>The columns of a curved effect, the curve that a fit drew through them, and whether it bends at all.</summary>
/// <remarks>
/// Everything is made from the coefficients and their covariance, so it serves every regression and every variance, on
/// the scale of the linear predictor (log odds, log hazard, ...). Intervals are pointwise. The test of non-linearity is
/// the Wald test that all columns but the line are zero: chi-square where the reference is normal, else F on q and the
/// smallest of the coefficients' degrees of freedom, a cautious choice; after a linear regression with CR2 the F test
/// of <see cref="LinearRegressionResult"/> for clusters is sharper.
/// </remarks>
public static class Curve
{
    /// <summary>The named columns of a basis, to be put into a design.</summary>
    /// <param name="basis">The basis.</param>
    /// <param name="quantity">Name of the quantity.</param>
    /// <param name="values">Its values, one per row.</param>
    /// <exception cref="InvalidInputError">A value that is no number, or where the basis is not defined.</exception>
    public static IReadOnlyList<(string Name, IReadOnlyList<double> Values)> Columns(
        ICurveBasis basis,
        string quantity,
        IReadOnlyList<double> values)
    {
        double[][] columns = new double[basis.Dimension][];
        for (int j = 0; j < columns.Length; j++)
            columns[j] = new double[values.Count];
        double[] row = new double[basis.Dimension];
        for (int i = 0; i < values.Count; i++)
        {
            if (!double.IsFinite(values[i]))
                throw new InvalidInputError(
                    $"'{quantity}' holds {values[i]} in row {i}",
                    "Leave incomplete rows out, or impute them, before fitting.",
                    i,
                    quantity);
            basis.Evaluate(values[i], row);
            for (int j = 0; j < columns.Length; j++)
                columns[j][i] = row[j];
        }
        IReadOnlyList<string> names = basis.Names(quantity);
        return [.. columns.Select((c, j) => (names[j], (IReadOnlyList<double>)c))];
    }

    /// <summary>The curve relative to a reference value.</summary>
    /// <param name="basis">The basis whose columns were fitted.</param>
    /// <param name="coefficients">The fit, with the variance wanted.</param>
    /// <param name="quantity">Name of the quantity, as given to <see cref="Columns"/>.</param>
    /// <param name="points">Where to draw, in the quantity's unit.</param>
    /// <param name="reference">Where the curve is zero.</param>
    /// <param name="level">Level of the pointwise intervals.</param>
    /// <exception cref="InvalidInputError">The fit has no such columns.</exception>
    public static IReadOnlyList<CurvePoint> Relative(
        ICurveBasis basis,
        Coefficients coefficients,
        string quantity,
        IReadOnlyList<double> points,
        double reference,
        double level = ConfidenceInterval.DefaultLevel)
    {
        int[] positions = [.. basis.Names(quantity).Select(coefficients.IndexOf)];
        double[] at = new double[basis.Dimension];
        double[] from = new double[basis.Dimension];
        double[] contrast = new double[coefficients.Values.Count];
        basis.Evaluate(reference, from);
        CurvePoint[] curve = new CurvePoint[points.Count];
        for (int i = 0; i < curve.Length; i++)
        {
            basis.Evaluate(points[i], at);
            for (int j = 0; j < at.Length; j++)
                contrast[positions[j]] = at[j] - from[j];
            curve[i] = new CurvePoint(points[i], Difference(coefficients, quantity, contrast, level));
        }
        return curve;
    }

    /// <summary>Wald test that the effect is a straight line.</summary>
    /// <exception cref="InvalidInputError">The fit has no such columns, or the basis has no line or nothing but the
    /// line.</exception>
    /// <exception cref="RankDeficientError">The covariance of the curved columns is singular.</exception>
    public static TestResult NonlinearityTest(ICurveBasis basis, Coefficients coefficients, string quantity)
    {
        string[] curved = [.. basis.Names(quantity).Skip(basis.LinearColumns)];
        if (basis.LinearColumns == 0 || curved.Length == 0)
            throw new InvalidInputError(
                $"the columns of '{quantity}' do not split into a line and the rest",
                "Use a spline or a polynomial of degree two or more.",
                column: quantity);
        return JointTest(coefficients, curved, "test of non-linearity");
    }

    /// <summary>Wald test that the quantity has no effect at all, line and bend.</summary>
    /// <exception cref="InvalidInputError">The fit has no such columns.</exception>
    public static TestResult AssociationTest(ICurveBasis basis, Coefficients coefficients, string quantity)
        => JointTest(coefficients, [.. basis.Names(quantity)], "test of association");

    private static TestResult JointTest(Coefficients coefficients, string[] terms, string name)
    {
        double statistic = Contrasts.Of(coefficients, terms).WaldStatistic(coefficients);
        double df = terms.Min(t => coefficients.DegreesOfFreedom[coefficients.IndexOf(t)]);
        int q = terms.Length;
        return double.IsPositiveInfinity(df)
            ? TestResult.ChiSquare($"Wald chi-square, {name}", statistic, q)
            : TestResult.F($"Wald F, {name}", statistic / q, q, df);
    }

    // At the reference itself the difference is exactly zero and there is nothing to test.
    private static Estimate Difference(Coefficients coefficients, string quantity, double[] contrast, double level)
        => Array.TrueForAll(contrast, c => c == 0)
            ? new Estimate(quantity, 0, 0, double.PositiveInfinity, new ConfidenceInterval(0, 0, level), 1)
            : coefficients.Combination(quantity, contrast, level);
}
