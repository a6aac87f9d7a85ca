using System.Text.Json;
using RotationStudy.Benchmarks;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Shape;

namespace RotationStudy.Statistics.Tests.Regression;

public class LogisticRegressionTests
{
    private static readonly GeneralizedLinearOptions ClusterSums = new() { Variance = ClusterVariance.CR0 };

    internal static DesignMatrix Knees(params string[] terms)
        => DesignMatrix.WithIntercept([.. terms.Select(t => (t, (IReadOnlyList<double>)Peers.Cohort.Knees[t]))]);

    internal static (DesignMatrix X, double[] Low) BirthWeights(params string[] terms)
    {
        ReferenceCase data = ReferenceCase.Read("Binary/birthwt");
        double[] race = data.Column("race");
        Dictionary<string, double[]> columns = new()
        {
            ["r2"] = [.. race.Select(r => r == 2 ? 1.0 : 0)],
            ["r3"] = [.. race.Select(r => r == 3 ? 1.0 : 0)],
        };
        return (DesignMatrix.WithIntercept([.. terms.Select(t => (t, (IReadOnlyList<double>)(columns.TryGetValue(t, out double[]? c) ? c : data.Column(t))))]), data.Column("low"));
    }

    [Fact]
    public void A_two_by_two_table_gives_the_log_odds_ratio_and_Woolfs_standard_error()
    {
        // 12 and 5 without the factor, 6 and 9 with it: closed form.
        double[] y = [.. Enumerable.Repeat(0.0, 12), .. Enumerable.Repeat(1.0, 5), .. Enumerable.Repeat(0.0, 6), .. Enumerable.Repeat(1.0, 9)];
        double[] factor = [.. Enumerable.Repeat(0.0, 17), .. Enumerable.Repeat(1.0, 15)];
        GeneralizedLinearFit fit = LogisticRegression.Fit(DesignMatrix.WithIntercept(("factor", factor)), y);
        Close.Relative(Math.Log(5.0 / 12), fit.Coefficients.Values[0], 1e-12);
        Close.Relative(Math.Log(9.0 / 6 / (5.0 / 12)), fit.Coefficients.Values[1], 1e-12);
        Close.Relative(Math.Sqrt((1.0 / 12) + (1.0 / 5) + (1.0 / 6) + (1.0 / 9)), fit.Coefficients.StandardError(1), 1e-12);
        // The score test of one binary factor is Pearson's chi-square.
        Close.Relative(32 * Math.Pow((12 * 9) - (5.0 * 6), 2) / (17 * 15 * 18.0 * 14), fit.ScoreTest.Statistic, 1e-12);
    }

    [Theory]
    [InlineData("logit_age_lwt_race_ftv", "age,lwt,r2,r3,ftv")]
    [InlineData("logit_full", "age,lwt,r2,r3,smoke,ptl,ht,ui")]
    public void Low_birth_weight_agrees_with_the_reference_library(string id, string terms)
    {
        ReferenceCase reference = ReferenceCase.Read("Binary/birthwt");
        (DesignMatrix x, double[] low) = BirthWeights(terms.Split(','));
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low);
        JsonElement expected = reference.Element("cases/" + id);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_model"), fit.Coefficients, 1e-8);
        Close.Relative(reference.Number($"cases/{id}/logLik"), fit.LogLikelihood, 1e-12);
        Close.Relative(reference.Number($"cases/{id}/deviance"), fit.Deviance, 1e-12);
        Close.Relative(reference.Number($"cases/{id}/aic"), fit.AkaikeInformation, 1e-12);
    }

    [Fact]
    public void Low_birth_weight_agrees_with_the_book_as_recalled()
    {
        // Hosmer and Lemeshow 1989, Table 2.2: recalled, not re-read; the reference library above is the check.
        ReferenceCase reference = ReferenceCase.Read("Binary/birthwt");
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt", "r2", "r3", "ftv");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low);
        double[] printed = [.. reference.Element("published/coef").EnumerateArray().Select(e => e.GetDouble())];
        for (int j = 0; j < printed.Length; j++)
            Close.Printed(printed[j], fit.Coefficients.Values[j], 3);
        Close.Printed(reference.Number("published/logLik"), fit.LogLikelihood, 3);
    }

    [Fact]
    public void Rows_as_clusters_give_the_heteroskedasticity_robust_variance()
    {
        ReferenceCase reference = ReferenceCase.Read("Binary/birthwt");
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt", "r2", "r3", "smoke", "ptl", "ht", "ui");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low, Clusters.EachRow(x.Rows), ClusterSums);
        Peers.AssertEqual(reference.Element("cases/logit_full/coef"), reference.Element("cases/logit_full/se_HC0"), fit.Coefficients, 1e-8);
    }

    [Fact]
    public void The_cohort_agrees_with_the_reference_library_and_its_cluster_sandwich()
    {
        DesignMatrix x = Knees("av", "tfa", "lax", "age", "female");
        Clusters persons = Clusters.From(Peers.Cohort.Knees.Person);
        JsonElement expected = Peers.Estimates("logit_cluster");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"], persons, ClusterSums);
        Assert.Equal(511, fit.Rows);
        Assert.Equal(294, fit.ClusterCount);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_CR0"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-12);
        GeneralizedLinearFit corrected = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"], persons, new() { Variance = ClusterVariance.CR1ClustersOnly });
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_CR0_G_over_Gm1"), corrected.Coefficients, 1e-8);
        GeneralizedLinearFit independent = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"]);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_model"), independent.Coefficients, 1e-8);
    }

    [Fact]
    public void The_default_variance_and_its_degrees_of_freedom_agree_with_the_paper_written_out()
    {
        DesignMatrix x = Knees("av", "tfa", "lax", "age", "female");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"], Clusters.From(Peers.Cohort.Knees.Person));
        AssertReduced(ReferenceCase.Read("Binary/logit_cluster_reduced").Element("cases/logistic"), fit.Coefficients);
    }

    internal static void AssertReduced(JsonElement expected, Coefficients found)
    {
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se"), found, 1e-8);
        for (int j = 0; j < found.Values.Count; j++)
            Close.Relative(expected.GetProperty("df")[j].GetDouble(), found.DegreesOfFreedom[j], 1e-7, found.Terms[j] + ", degrees of freedom");
    }

    [Fact]
    public void One_contrast_has_the_same_p_value_as_a_coefficient_and_as_an_F_test()
    {
        DesignMatrix x = Knees("av", "lax", "age");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"], Clusters.From(Peers.Cohort.Knees.Person));
        Estimate lax = fit.Coefficients.Estimate("lax");
        TestResult one = fit.WaldTest(Contrasts.Of(fit.Coefficients, "lax"));
        Close.Relative(lax.Statistic * lax.Statistic, one.Statistic, 1e-9);
        Close.Relative(lax.PValue, one.PValue, 1e-7);
        Close.Relative(lax.Interval.Lower, fit.Combination("lax", [0, 0, 1, 0]).Interval.Lower, 1e-9);
        TestResult both = fit.WaldTest(Contrasts.Of(fit.Coefficients, "lax", "age"));
        Assert.Equal(2, both.DegreesOfFreedom);
        Assert.True(double.IsFinite(both.DenominatorDegreesOfFreedom));
        GeneralizedLinearFit independent = LogisticRegression.Fit(x, Peers.Cohort.Knees["any"]);
        Close.Relative(independent.Coefficients.WaldTest("lax", "age").Statistic, independent.WaldTest(Contrasts.Of(independent.Coefficients, "lax", "age")).Statistic, 1e-12);
    }

    [Fact]
    public void A_sliver_of_overlap_gives_a_steep_but_finite_slope()
    {
        // The case at 3 lies a thousandth below the other at 3.001: no separation, and a slope in the hundreds.
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1, 2, 3, 3.001, 5, 6]));
        double[] y = [0, 0, 1, 0, 1, 1];
        Assert.Empty(SeparationDetection.SeparatedColumns(x, y));
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, y);
        double residual = 0;
        for (int i = 0; i < 6; i++)
            residual += x[i, 1] * (y[i] - fit.FittedMeans[i]);
        Assert.True(Math.Abs(residual) < 1e-9);
        Assert.True(fit.Coefficients.Values[1] is > 1 and < 1e5);
    }

    [Fact]
    public void A_curved_effect_in_the_cohort_agrees_with_the_reference_library()
    {
        PeerTable knees = Peers.Cohort.Knees;
        JsonElement expected = Peers.Estimates("rcs4_logit");
        RestrictedCubicSpline spline = RestrictedCubicSpline.AtQuantiles(knees["av"]);
        Assert.Equal(expected.GetProperty("knots").EnumerateArray().Select(k => k.GetDouble()), spline.Knots.Select(k => Math.Round(k, 10)));
        DesignMatrix x = DesignMatrix.WithIntercept(
            [.. Curve.Columns(spline, "av", knees["av"]), ("tfa", knees["tfa"]), ("lax", knees["lax"]), ("age", knees["age"]), ("female", knees["female"])]);
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, knees["any"]);
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se_model"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-12);
    }

    [Fact]
    public void Shuffling_rows_changes_nothing_but_rounding()
    {
        PeerTable knees = Peers.Cohort.Knees;
        int[] order = [.. Enumerable.Range(0, knees.Rows)];
        new Random(7).Shuffle(order);
        DesignMatrix x = Knees("av", "lax", "age");
        Clusters persons = Clusters.From(knees.Person);
        GeneralizedLinearFit plain = LogisticRegression.Fit(x, knees["any"], persons);
        GeneralizedLinearFit shuffled = LogisticRegression.Fit(x.SelectRows(order), [.. order.Select(i => knees["any"][i])], persons.SelectRows(order));
        for (int j = 0; j < x.Columns; j++)
        {
            Close.Relative(plain.Coefficients.Values[j], shuffled.Coefficients.Values[j], 1e-10);
            Close.Relative(plain.Coefficients.StandardError(j), shuffled.Coefficients.StandardError(j), 1e-10);
        }
    }

    [Fact]
    public void A_weight_of_two_is_a_row_twice_and_a_weight_of_zero_is_no_row()
    {
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt", "smoke");
        double[] weights = [.. Enumerable.Range(0, x.Rows).Select(i => (double)(i % 3))];
        int[] rows = [.. Enumerable.Range(0, x.Rows).SelectMany(i => Enumerable.Repeat(i, i % 3))];
        GeneralizedLinearFit weighted = LogisticRegression.Fit(x, low, weights: weights);
        GeneralizedLinearFit repeated = LogisticRegression.Fit(x.SelectRows(rows), [.. rows.Select(i => low[i])]);
        Close.Relative(repeated.LogLikelihood, weighted.LogLikelihood, 1e-12);
        Close.Relative(repeated.NullLogLikelihood, weighted.NullLogLikelihood, 1e-12);
        Close.Relative(repeated.PearsonChiSquared, weighted.PearsonChiSquared, 1e-10);
        for (int j = 0; j < x.Columns; j++)
        {
            Close.Relative(repeated.Coefficients.Values[j], weighted.Coefficients.Values[j], 1e-9);
            Close.Relative(repeated.Coefficients.StandardError(j), weighted.Coefficients.StandardError(j), 1e-9);
        }
    }

    [Fact]
    public void A_column_in_another_unit_rescales_its_coefficient_only()
    {
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt");
        DesignMatrix kilograms = DesignMatrix.WithIntercept(("age", x.Column(1).ToArray()), ("lwt", [.. x.Column(2).ToArray().Select(v => v * 0.45359237)]));
        GeneralizedLinearFit pounds = LogisticRegression.Fit(x, low);
        GeneralizedLinearFit metric = LogisticRegression.Fit(kilograms, low);
        Close.Relative(pounds.Coefficients.Values[2] / 0.45359237, metric.Coefficients.Values[2], 1e-9);
        Close.Relative(pounds.Coefficients.Estimate("age").PValue, metric.Coefficients.Estimate("age").PValue, 1e-8);
        Close.Relative(pounds.LogLikelihood, metric.LogLikelihood, 1e-13);
    }

    [Fact]
    public void The_likelihood_ratio_of_nested_models_is_the_difference_of_deviances()
    {
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt", "smoke");
        GeneralizedLinearFit larger = LogisticRegression.Fit(x, low);
        GeneralizedLinearFit smaller = LogisticRegression.Fit(x.SelectColumns([0, 1]), low);
        TestResult test = larger.LikelihoodRatioAgainst(smaller);
        Assert.Equal(2, test.DegreesOfFreedom);
        Close.Relative(smaller.Deviance - larger.Deviance, test.Statistic, 1e-9);
        Close.Relative(larger.LikelihoodRatioTest.Statistic, test.Statistic + smaller.LikelihoodRatioTest.Statistic, 1e-9);
        Assert.Throws<InvalidInputError>(() => smaller.LikelihoodRatioAgainst(larger));
    }

    [Fact]
    public void An_offset_equal_to_the_fitted_linear_predictor_leaves_nothing_to_fit()
    {
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low);
        double[] offset = [.. fit.FittedMeans.Select(m => Math.Log(m / (1 - m)))];
        GeneralizedLinearFit calibration = LogisticRegression.Fit(DesignMatrix.InterceptOnly(x.Rows), low, offset: offset);
        Assert.Equal(0, calibration.Coefficients.Values[0], 9);
        Close.Relative(fit.LogLikelihood, calibration.LogLikelihood, 1e-12);
    }

    [Fact]
    public void Two_fits_of_the_same_data_give_the_same_bytes()
    {
        DesignMatrix x = Knees("av", "tfa", "lax");
        Assert.Equal(LogisticRegression.Fit(x, Peers.Cohort.Knees["any"]).Coefficients.Values, LogisticRegression.Fit(x, Peers.Cohort.Knees["any"]).Coefficients.Values);
    }

    [Fact]
    public void A_separated_outcome_names_the_column()
    {
        SeparationError error = Assert.Throws<SeparationError>(() => LogisticRegression.Fit(
            DesignMatrix.WithIntercept(("noise", [0.3, 0.1, 0.4, 0.2, 0.5, 0.1]), ("score", [1, 2, 3, 4, 5, 6])), [0, 0, 0, 1, 1, 1]));
        Assert.Equal(["score"], error.Columns);
        Assert.Contains("Firth", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_column_that_repeats_another_is_named()
    {
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt");
        DesignMatrix twice = DesignMatrix.WithIntercept(("age", x.Column(1).ToArray()), ("lwt", x.Column(2).ToArray()), ("both", [.. Enumerable.Range(0, x.Rows).Select(i => x[i, 1] + x[i, 2])]));
        Assert.Equal(["both"], Assert.Throws<RankDeficientError>(() => LogisticRegression.Fit(twice, low)).Columns);
        DesignMatrix constant = DesignMatrix.WithIntercept(("site", Enumerable.Repeat(4.0, x.Rows).ToArray()));
        Assert.Equal(["site"], Assert.Throws<RankDeficientError>(() => LogisticRegression.Fit(constant, low)).Columns);
    }

    [Fact]
    public void No_event_and_events_only_are_too_little_data()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1, 2, 3, 5]));
        Assert.Contains("no event", Assert.Throws<TooFewDataError>(() => LogisticRegression.Fit(x, [0, 0, 0, 0])).Message, StringComparison.Ordinal);
        Assert.Contains("every row", Assert.Throws<TooFewDataError>(() => LogisticRegression.Fit(x, [1, 1, 1, 1])).Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => LogisticRegression.Fit(DesignMatrix.WithIntercept(("a", [1]), ("b", [2])), [1]));
        (DesignMatrix births, double[] low) = BirthWeights("age");
        Assert.Throws<TooFewDataError>(() => LogisticRegression.Fit(births, low, Clusters.From(new int[births.Rows])));
    }

    [Fact]
    public void An_outcome_that_is_no_zero_or_one_is_refused_with_its_row()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("a", [1, 2, 3]));
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => LogisticRegression.Fit(x, [0, 2, 1])).Row);
        Assert.Equal(2, Assert.Throws<InvalidInputError>(() => LogisticRegression.Fit(x, [0, 1, double.NaN])).Row);
        Assert.Throws<InvalidInputError>(() => LogisticRegression.Fit(x, [0, 1]));
        Assert.Throws<InvalidInputError>(() => LogisticRegression.Fit(x, [0, 1, 1], weights: [1, 1, -1]));
        Assert.Throws<InvalidInputError>(() => LogisticRegression.Fit(x, [0, 1, 1], offset: [1, 1, double.NegativeInfinity]));
    }

    [Fact]
    public void Few_events_for_the_coefficients_are_said()
    {
        (DesignMatrix x, double[] low) = BirthWeights("age", "lwt", "r2", "r3", "smoke", "ptl", "ht", "ui");
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, low);
        Close.Relative(59.0 / 8, fit.EventsPerParameter, 1e-15);
        Assert.Contains("7.4 events per coefficient", Assert.Single(fit.Warnings), StringComparison.Ordinal);
    }
}
