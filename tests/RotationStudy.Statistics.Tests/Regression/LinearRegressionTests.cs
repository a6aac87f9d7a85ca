using System.Text.Json;
using RotationStudy.Benchmarks;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class LinearRegressionTests
{
    private static readonly ReferenceCase Weighted = ReferenceCase.Read("Linear/weighted_linear");

    [Fact]
    public void Three_points_by_hand()
    {
        // y = 1, 2, 4 at x = 0, 1, 2: slope 3/2, intercept 5/6, residuals 1/6, -2/6, 1/6, sum of squares 1/6 on one degree of freedom.
        LinearRegressionResult fit = LinearRegression.Fit(DesignMatrix.WithIntercept(("x", [0, 1, 2])), [1, 2, 4]);
        Close.Relative(5.0 / 6, fit.ModelBased.Values[0], 1e-14);
        Close.Relative(1.5, fit.ModelBased.Values[1], 1e-14);
        Close.Relative(1.0 / 6, fit.ResidualSumOfSquares, 1e-13);
        Close.Relative(Math.Sqrt(1.0 / 12), fit.ModelBased.StandardError(1), 1e-13);
        Close.Relative(27.0 / 28, fit.RSquared, 1e-14);
        Assert.Equal(1, fit.ResidualDegreesOfFreedom);
    }

    [Fact]
    public void Weighted_fit_statistics_are_those_of_the_reference_library()
    {
        LinearRegressionResult fit = WeightedFit();
        for (int k = 0; k < 5; k++)
        {
            Close.Relative(Weighted.Number($"coef/{k}"), fit.ModelBased.Values[k], 1e-9, "coefficient");
            Close.Relative(Weighted.Number($"se/{k}"), fit.ModelBased.StandardError(k), 1e-10, "standard error");
            Close.Relative(Weighted.Number($"p/{k}"), fit.ModelBased.Estimate(k).PValue, 1e-8, "p value");
        }
        Close.Relative(Weighted.Number("sigma"), fit.Sigma, 1e-10);
        Close.Relative(Weighted.Number("r2"), fit.RSquared, 1e-10);
        Close.Relative(Weighted.Number("adj_r2"), fit.AdjustedRSquared, 1e-10);
        Close.Relative(Weighted.Number("logLik"), fit.LogLikelihood, 1e-10);
        Assert.Equal(33, fit.ResidualDegreesOfFreedom);
    }

    [Fact]
    public void Tests_and_predictions_are_those_of_the_reference_library()
    {
        LinearRegressionResult fit = WeightedFit();
        TestResult group = fit.FTest(Contrasts.Of(fit.ModelBased, "b", "c"));
        Close.Relative(Weighted.Number("group_F/F"), group.Statistic, 1e-9);
        Close.Relative(Weighted.Number("group_F/p"), group.PValue, 1e-8);
        Close.Relative(Weighted.Number("overall_F/F"), fit.OverallTest().Statistic, 1e-9);
        Close.Relative(Weighted.Number("overall_F/p"), fit.OverallTest().PValue, 1e-8);
        DesignMatrix rows = DesignMatrix.WithIntercept(("age", [12, 20]), ("mass", [40, 70]), ("b", [0, 0]), ("c", [0, 1]));
        IReadOnlyList<LinearPrediction> predictions = fit.Predict(rows);
        for (int i = 0; i < 2; i++)
        {
            Close.Relative(Weighted.Number($"mean/{i}/0"), predictions[i].Mean.Value, 1e-10);
            Close.Relative(Weighted.Number($"mean/{i}/1"), predictions[i].Mean.Interval.Lower, 1e-9);
            Close.Relative(Weighted.Number($"se_mean/{i}"), predictions[i].Mean.StandardError, 1e-9);
            Close.Relative(Weighted.Number($"new/{i}/1"), predictions[i].NewObservation.Lower, 1e-9);
            Close.Relative(Weighted.Number($"new/{i}/2"), predictions[i].NewObservation.Upper, 1e-9);
        }
    }

    [Fact]
    public void Without_a_constant_R_squared_is_about_zero()
    {
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.FromColumns(("age", Weighted.Column("age")), ("mass", Weighted.Column("mass"))), Weighted.Column("y"), Weighted.Column("w"));
        Assert.False(fit.HasConstant);
        Close.Relative(Weighted.Number("no_intercept_r2"), fit.RSquared, 1e-10);
    }

    [Fact]
    public void Growth_of_Potthoff_and_Roy_has_the_cluster_robust_errors_of_the_reference_library()
    {
        ReferenceCase growth = ReferenceCase.Read("Mixed/orthodont");
        double[] age = growth.Column("age");
        double[] male = [.. growth.Text("Sex").Select(s => s == "Male" ? 1.0 : 0.0)];
        string[] terms = ["(Intercept)", "a", "male", "a:male"];
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.WithIntercept(("a", age), ("male", male), ("a:male", [.. age.Zip(male, (a, m) => a * m)])), growth.Column("distance"));
        Clusters children = Clusters.From(growth.Text("Subject"));
        foreach ((string library, ClusterVariance variance) in new[]
        {
            ("CR0", ClusterVariance.CR0), ("CR1", ClusterVariance.CR1ClustersOnly), ("CR1S", ClusterVariance.CR1), ("CR2", ClusterVariance.CR2),
        })
        {
            Coefficients robust = fit.ClusterRobust(children, variance);
            for (int k = 0; k < 4; k++)
                Close.Relative(growth.Number($"cases/ols_cluster/se/{library}/{terms[k]}"), robust.StandardError(k), 1e-9, $"{library} {terms[k]}");
        }
        Coefficients byDefault = fit.ClusterRobust(children);
        Assert.Contains("CR2", byDefault.VarianceMethod, StringComparison.Ordinal);
        for (int k = 0; k < 4; k++)
            Close.Relative(growth.Number($"cases/ols_cluster/cr2_satt_df/{k}"), byDefault.DegreesOfFreedom[k], 1e-9, "degrees of freedom");
    }

    [Fact]
    public void Visits_of_three_hundred_persons_have_the_estimates_and_errors_of_the_reference_libraries()
    {
        // R 4.2.2, sandwich 3.0.2; the reference's CR1 is G/(G-1) (n-1)/(n-k).
        PeerTable visits = Peers.Cohort.Visits;
        Clusters persons = Clusters.From(visits.Person);
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.WithIntercept(
                ("yr", visits["yr"]), ("av", visits["av"]), ("tfa", visits["tfa"]), ("lax", visits["lax"]), ("age", visits["age"]), ("female", visits["female"])),
            visits["out"]);
        JsonElement expected = Peers.Estimates("ols_hc3_cr1");
        Assert.Equal(2045, fit.Rows);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_classical"), fit.ModelBased, 1e-9);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_HC3"), fit.Robust(), 1e-9);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_CR1"), fit.ClusterRobust(persons, ClusterVariance.CR1), 1e-9);
        Close.Relative(expected.GetProperty("sigma").GetDouble(), fit.Sigma, 1e-10);
        Close.Relative(expected.GetProperty("r2").GetDouble(), fit.RSquared, 1e-10);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-10);
    }

    [Fact]
    public void A_combination_of_one_coefficient_has_that_coefficients_degrees_of_freedom_and_its_F_test_is_the_squared_t()
    {
        LinearRegressionResult fit = WeightedFit();
        Clusters pairs = Clusters.From([.. Enumerable.Range(0, 40).Select(i => i / 2)]);
        Estimate coefficient = fit.ClusterRobust(pairs, ClusterVariance.CR2).Estimate("age");
        Estimate combination = fit.ClusterRobustCombination("age", [0, 1, 0, 0, 0], pairs);
        TestResult test = fit.FTest(Contrasts.FromRows([0, 1, 0, 0, 0]), pairs);
        Close.Relative(coefficient.DegreesOfFreedom, combination.DegreesOfFreedom, 1e-12);
        Close.Relative(coefficient.DegreesOfFreedom, test.DenominatorDegreesOfFreedom, 1e-10);
        Close.Relative(coefficient.Statistic * coefficient.Statistic, test.Statistic, 1e-10);
        Close.Relative(coefficient.PValue, test.PValue, 1e-10);
    }

    [Fact]
    public void Rescaling_a_column_rescales_its_coefficient_and_doubling_all_weights_changes_nothing()
    {
        LinearRegressionResult fit = WeightedFit();
        LinearRegressionResult scaled = LinearRegression.Fit(
            DesignMatrix.WithIntercept(("age", [.. Weighted.Column("age").Select(a => a / 1000)]), ("mass", Weighted.Column("mass")), ("b", Group("b")), ("c", Group("c"))),
            Weighted.Column("y"),
            [.. Weighted.Column("w").Select(w => 2 * w)]);
        Close.Relative(1000 * fit.ModelBased.Values[1], scaled.ModelBased.Values[1], 1e-11);
        Close.Relative(1000 * fit.ModelBased.StandardError(1), scaled.ModelBased.StandardError(1), 1e-11);
        Close.Relative(fit.ModelBased.Estimate(2).PValue, scaled.ModelBased.Estimate(2).PValue, 1e-9);
    }

    [Fact]
    public void Shuffling_rows_changes_nothing_but_the_last_digits()
    {
        int[] order = [.. Enumerable.Range(0, 40).OrderBy(i => (i * 17) % 40)];
        LinearRegressionResult fit = WeightedFit();
        double[] y = Weighted.Column("y");
        double[] w = Weighted.Column("w");
        LinearRegressionResult shuffled = LinearRegression.Fit(WeightedDesign().SelectRows(order), [.. order.Select(i => y[i])], [.. order.Select(i => w[i])]);
        for (int k = 0; k < 5; k++)
            Close.Relative(fit.ModelBased.Values[k], shuffled.ModelBased.Values[k], 1e-10);
    }

    [Fact]
    public void Many_blocks_of_rows_give_the_answer_of_the_normal_equations()
    {
        Random random = new(5);
        const int Rows = 2000;
        double[] a = [.. Enumerable.Range(0, Rows).Select(_ => random.NextDouble())];
        double[] b = [.. Enumerable.Range(0, Rows).Select(_ => random.NextDouble())];
        double[] y = [.. a.Select((v, i) => v - (2 * b[i]) + random.NextDouble())];
        DesignMatrix x = DesignMatrix.WithIntercept(("a", a), ("b", b));
        LinearRegressionResult fit = LinearRegression.Fit(x, y);
        WorkingLeastSquares normal = WorkingFits.Linear(x, y, []);
        for (int k = 0; k < 3; k++)
            Close.Relative(normal.Values[k], fit.ModelBased.Values[k], 1e-11);
        Close.Relative(3, fit.Leverage.Sum(), 1e-12);
    }

    [Fact]
    public void Dependent_columns_are_named_and_the_others_are_not()
    {
        double[] a = [1, 2, 3, 4, 5, 7];
        double[] b = [1, 0, 2, 5, 1, 3];
        RankDeficientError error = Assert.Throws<RankDeficientError>(() => LinearRegression.Fit(
            DesignMatrix.WithIntercept(("flat", [2, 2, 2, 2, 2, 2]), ("a", a), ("sum", [.. a.Zip(b, (u, v) => u + v)]), ("b", b)), [1, 2, 3, 4, 5, 6]));
        Assert.Equal(["flat", "b"], error.Columns);
    }

    [Fact]
    public void No_more_rows_than_columns_is_refused()
    {
        TooFewDataError error = Assert.Throws<TooFewDataError>(() => LinearRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2])), [1, 2]));
        Assert.Contains("2 rows of positive weight cannot carry 2 coefficients", error.Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => LinearRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2, 3])), [1, 2, 4], [1, 0, 1]));
    }

    [Fact]
    public void A_negative_weight_and_a_missing_outcome_are_refused_with_their_row()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1, 2, 3]));
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => LinearRegression.Fit(x, [1, double.NaN, 2])).Row);
        Assert.Equal(2, Assert.Throws<InvalidInputError>(() => LinearRegression.Fit(x, [1, 2, 4], [1, 1, -1])).Row);
        Assert.Throws<InvalidInputError>(() => LinearRegression.Fit(x, [1, 2]));
    }

    [Fact]
    public void A_constant_outcome_has_slopes_of_zero_and_explains_nothing()
    {
        LinearRegressionResult fit = LinearRegression.Fit(DesignMatrix.WithIntercept(("a", [1, 2, 3, 5])), [7.1, 7.1, 7.1, 7.1]);
        Assert.True(Math.Abs(fit.ModelBased.Values[1]) < 1e-13);
        Assert.Equal(0, fit.RSquared);
    }

    internal static LinearRegressionResult WeightedFit() => LinearRegression.Fit(WeightedDesign(), Weighted.Column("y"), Weighted.Column("w"));

    private static DesignMatrix WeightedDesign()
        => DesignMatrix.WithIntercept(("age", Weighted.Column("age")), ("mass", Weighted.Column("mass")), ("b", Group("b")), ("c", Group("c")));

    private static double[] Group(string name) => [.. Weighted.Text("group").Select(g => g == name ? 1.0 : 0.0)];
}
