using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Regression;

public class RegressionCalibrationTests
{
    [Fact]
    public void Corn_on_soil_nitrogen_has_the_published_slope()
    {
        // Fuller 1987, example 1.2.1 (recalled, not re-read).
        ReferenceCase corn = ReferenceCase.Read("MeasurementError/fuller_corn");
        DesignMatrix design = DesignMatrix.FromColumns(("nitrogen", corn.Column("nitrogen")));
        RegressionCalibrationResult found = Correct(design, corn.Column("yield"), Clusters.EachRow(11), [new("nitrogen", 57)]);
        Close.Printed(corn.Number("published/slope"), found.Corrected.Values[0], 4, "slope");
        // The published error takes nitrogen as normal; with 11 rows the two differ by some per cent.
        Close.Relative(corn.Number("published/slope_se"), found.Corrected.StandardError(0), 0.08, "standard error");
    }

    [Fact]
    public void Two_columns_with_error_agree_with_the_calibration_matrix_and_a_numerical_delta_method()
    {
        ReferenceCase simulated = ReferenceCase.Read("MeasurementError/two_columns");
        DesignMatrix design = DesignMatrix.FromColumns(("w1", simulated.Column("w1")), ("w2", simulated.Column("w2")), ("z", simulated.Column("z")));
        RegressionCalibrationResult found = Correct(
            design, simulated.Column("y"), Clusters.From(simulated.Column("cluster")), [new("w1", 0.36, 39), new("w2", 0.25, 25)]);
        for (int j = 0; j < 3; j++)
        {
            Close.Relative(simulated.Number($"corrected/{j}"), found.Corrected.Values[j], 1e-8);
            // Central differences leave about 1e-9.
            Close.Relative(simulated.Number($"se/{j}"), found.Corrected.StandardError(j), 1e-7);
        }
        Close.Relative(simulated.Number("covariance12"), found.Corrected.Covariance[0, 1], 1e-7);
    }

    [Fact]
    public void It_is_what_a_fit_to_the_expected_true_values_gives_for_odds_too()
    {
        RandomStream random = new(7, "calibration");
        (double[] x, double[] z, double[] y) = Rows(random, 300);
        DesignMatrix design = DesignMatrix.FromColumns(("x", x), ("z", z));
        double[] outcome = [.. y.Select(v => v > 0 ? 1.0 : 0)];
        Coefficients fitted = LogisticRegression.Fit(DesignMatrix.WithIntercept(("x", x), ("z", z)), outcome.AsSpan()).Coefficients;
        RegressionCalibrationResult found = RegressionCalibration.Correct(fitted, design, Clusters.EachRow(300), [new("x", 0.4)]);

        // E(x | w, z) by hand: slope of the truth on w and z from moments of w and z less the error.
        double sxx = Moment(x, x), sxz = Moment(x, z), szz = Moment(z, z), determinant = (sxx * szz) - (sxz * sxz);
        double onX = (((sxx - 0.4) * szz) - (sxz * sxz)) / determinant;
        double onZ = ((sxx * sxz) - ((sxx - 0.4) * sxz)) / determinant;
        double[] expected = [.. x.Select((v, i) => (onX * v) + (onZ * z[i]))];
        Coefficients refitted = LogisticRegression.Fit(DesignMatrix.WithIntercept(("x", expected), ("z", z)), outcome.AsSpan()).Coefficients;
        Close.Relative(refitted.Values[1], found.Corrected.Values[0], 1e-8, "x");
        Close.Relative(refitted.Values[2], found.Corrected.Values[1], 1e-8, "z");
    }

    [Fact]
    public void No_error_changes_nothing_and_another_unit_scales()
    {
        (double[] x, double[] z, double[] y) = Rows(new RandomStream(8, "calibration"), 60);
        RegressionCalibrationResult none = Correct(DesignMatrix.FromColumns(("x", x), ("z", z)), y, Clusters.EachRow(60), [new("x", 0)]);
        Coefficients fitted = LinearRegression.Fit(DesignMatrix.WithIntercept(("x", x), ("z", z)), y).ModelBased;
        Close.Relative(fitted.Values[1], none.Corrected.Values[0], 1e-12);
        Close.Relative(fitted.StandardError(1), none.Corrected.StandardError(0), 1e-10);
        Assert.Equal(1, none.Columns[0].Reliability);

        RegressionCalibrationResult plain = Correct(DesignMatrix.FromColumns(("x", x), ("z", z)), y, Clusters.EachRow(60), [new("x", 0.3, 50)]);
        double[] tenfold = [.. x.Select(v => v * 10)];
        RegressionCalibrationResult scaled = Correct(DesignMatrix.FromColumns(("x", tenfold), ("z", z)), y, Clusters.EachRow(60), [new("x", 30, 50)]);
        Close.Relative(plain.Corrected.Values[0], scaled.Corrected.Values[0] * 10, 1e-10);
        Close.Relative(plain.Corrected.StandardError(0), scaled.Corrected.StandardError(0) * 10, 1e-10);
        Close.Relative(plain.Columns[0].ConditionalReliability, scaled.Columns[0].ConditionalReliability, 1e-10);
        Close.Relative(plain.ShareFromError[0], scaled.ShareFromError[0], 1e-10);
    }

    [Fact]
    public void The_order_of_rows_changes_nothing()
    {
        (double[] x, double[] z, double[] y) = Rows(new RandomStream(9, "calibration"), 40);
        int[] persons = [.. Enumerable.Range(0, 40).Select(i => i / 2)];
        int[] order = [.. Enumerable.Range(0, 40).Select(i => i * 7 % 40)];
        RegressionCalibrationResult a = Correct(DesignMatrix.FromColumns(("x", x), ("z", z)), y, Clusters.From(persons), [new("x", 0.3, 20)]);
        RegressionCalibrationResult b = Correct(
            DesignMatrix.FromColumns(("x", [.. order.Select(i => x[i])]), ("z", [.. order.Select(i => z[i])])), [.. order.Select(i => y[i])],
            Clusters.From(order.Select(i => persons[i]).ToArray()), [new("x", 0.3, 20)]);
        Close.Relative(a.Corrected.Values[0], b.Corrected.Values[0], 1e-10);
        Close.Relative(a.Corrected.StandardError(0), b.Corrected.StandardError(0), 1e-10);
    }

    [Fact]
    public void An_error_as_large_as_the_column_an_unknown_column_and_one_cluster_are_refused()
    {
        (double[] x, double[] z, double[] y) = Rows(new RandomStream(10, "calibration"), 30);
        DesignMatrix design = DesignMatrix.FromColumns(("x", x), ("z", z));
        Assert.Contains("nothing is left", Refusal(design, y, Clusters.EachRow(30), [new("x", 9)]).Message, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("no column is called 'w'", Refusal(design, y, Clusters.EachRow(30), [new("w", 1)]).Message, StringComparison.Ordinal);
        Assert.Contains("two error variances", Refusal(design, y, Clusters.EachRow(30), [new("x", 0.1), new("x", 0.2)]).Message, StringComparison.Ordinal);
        Assert.Contains("degrees of freedom", Refusal(design, y, Clusters.EachRow(30), [new("x", -1)]).Message, StringComparison.Ordinal);
        Assert.Contains("1 cluster", Refusal(design, y, Clusters.From(new int[30]), [new("x", 0.1)]).Message, StringComparison.Ordinal);
    }

    private static StatisticsError Refusal(DesignMatrix design, double[] y, Clusters clusters, ColumnError[] errors)
        => Assert.ThrowsAny<StatisticsError>(() => Correct(design, y, clusters, errors));

    private static RegressionCalibrationResult Correct(DesignMatrix design, double[] y, Clusters clusters, ColumnError[] errors)
    {
        Coefficients fitted = LinearRegression.Fit(
            DesignMatrix.WithIntercept([.. design.Names.Select((n, j) => (n, (IReadOnlyList<double>)design.Column(j).ToArray()))]), y).ModelBased;
        return RegressionCalibration.Correct(fitted, design, clusters, errors);
    }

    private static (double[] X, double[] Z, double[] Y) Rows(RandomStream random, int n)
    {
        double[] x = new double[n], z = new double[n], y = new double[n];
        for (int i = 0; i < n; i++)
        {
            double truth = random.Normal();
            z[i] = (0.5 * truth) + random.Normal();
            x[i] = truth + (0.6 * random.Normal());
            y[i] = (0.7 * truth) + (0.2 * z[i]) + random.Normal();
        }
        return (x, z, y);
    }

    private static double Moment(double[] a, double[] b)
    {
        double ma = a.Average(), mb = b.Average();
        return a.Select((v, i) => (v - ma) * (b[i] - mb)).Sum() / (a.Length - 1);
    }
}
