using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class ConditionalLogisticRegressionTests
{
    private static (DesignMatrix X, double[] Case, Clusters Sets) Infertility()
    {
        ReferenceCase data = ReferenceCase.Read("Binary/matched_sets");
        return (DesignMatrix.FromColumns(("spontaneous", data.Column("spontaneous")), ("induced", data.Column("induced"))), data.Column("case"), Clusters.From(data.Text("set")));
    }

    [Fact]
    public void Pairs_with_one_binary_column_give_the_log_ratio_of_discordant_pairs()
    {
        // 14 pairs with the case exposed only, 5 with the other exposed only, 7 with both alike: closed form, and McNemar's test.
        (double[] exposed, double[] y, int[] pair) = Pairs(14, 5, 7);
        ConditionalLogisticFit fit = ConditionalLogisticRegression.Fit(DesignMatrix.FromColumns(("exposed", exposed)), y, Clusters.From(pair));
        Close.Relative(Math.Log(14.0 / 5), fit.Coefficients.Values[0], 1e-9);
        Close.Relative(Math.Sqrt((1.0 / 14) + (1.0 / 5)), fit.Coefficients.StandardError(0), 1e-9);
        Close.Relative(9.0 * 9 / 19, fit.ScoreTest.Statistic, 1e-12);
        Assert.Equal(26, fit.ContributingSets);
    }

    [Theory]
    [InlineData("infert")]
    [InlineData("birthwt_by_race")]
    public void Matched_sets_agree_with_the_reference_library(string id)
    {
        JsonElement expected = ReferenceCase.Read("Binary/matched_sets").Element("cases/" + id);
        ConditionalLogisticFit fit;
        if (id == "infert")
        {
            (DesignMatrix x, double[] y, Clusters sets) = Infertility();
            fit = ConditionalLogisticRegression.Fit(x, y, sets);
        }
        else
        {
            (DesignMatrix births, double[] low) = LogisticRegressionTests.BirthWeights("age", "lwt", "smoke", "ht");
            fit = ConditionalLogisticRegression.Fit(births.SelectColumns([1, 2, 3, 4]), low, Clusters.From(ReferenceCase.Read("Binary/birthwt").Text("race")));
        }
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("loglik")[1].GetDouble(), fit.LogLikelihood, 1e-11);
        Close.Relative(expected.GetProperty("loglik")[0].GetDouble(), fit.NullLogLikelihood, 1e-11);
        Close.Relative(expected.GetProperty("score").GetDouble(), fit.ScoreTest.Statistic, 1e-9);
    }

    [Fact]
    public void The_recursion_equals_the_sum_over_all_choices()
    {
        Random random = new(3);
        double[] a = [.. Enumerable.Range(0, 8).Select(_ => random.NextDouble())];
        double[] b = [.. Enumerable.Range(0, 8).Select(_ => random.NextDouble())];
        double[] y = [1, 1, 1, 0, 0, 0, 0, 0];
        DesignMatrix x = DesignMatrix.FromColumns(("a", a), ("b", b));
        ConditionalLogisticLikelihood likelihood = new(x, y, Clusters.From(new int[8]), [0]);
        double[] beta = [0.7, -1.3];
        double[] eta = [.. Enumerable.Range(0, 8).Select(i => (a[i] * beta[0]) + (b[i] * beta[1]))];
        double total = 0;
        for (int chosen = 0; chosen < 256; chosen++)
        {
            if (int.PopCount(chosen) == 3)
                total += Math.Exp(Enumerable.Range(0, 8).Where(i => (chosen >> i & 1) == 1).Sum(i => eta[i]));
        }
        Close.Relative(eta[0] + eta[1] + eta[2] - Math.Log(total), likelihood.Evaluate(beta), 1e-12);
        double[] gradient = new double[2];
        double[] information = new double[4];
        likelihood.Differentiate(gradient, information);
        const double h = 1e-5;
        double slope = (likelihood.Evaluate([0.7 + h, -1.3]) - likelihood.Evaluate([0.7 - h, -1.3])) / (2 * h);
        Close.Relative(slope, gradient[0], 1e-8);
    }

    [Fact]
    public void Very_large_sets_do_not_overflow()
    {
        Random random = new(4);
        double[] a = [.. Enumerable.Range(0, 3000).Select(_ => random.NextDouble())];
        double[] y = [.. a.Select(v => random.NextDouble() < 1 / (1 + Math.Exp(0.5 - v)) ? 1.0 : 0)];
        ConditionalLogisticFit conditional = ConditionalLogisticRegression.Fit(DesignMatrix.FromColumns(("a", a)), y, Clusters.From(new int[3000]));
        GeneralizedLinearFit plain = LogisticRegression.Fit(DesignMatrix.WithIntercept(("a", a)), y);
        // One large set: conditional and unconditional estimates differ by a factor of about (n - 1) / n.
        Close.Relative(plain.Coefficients.Values[1], conditional.Coefficients.Values[0], 2e-3);
    }

    [Fact]
    public void Sets_without_contrast_are_counted_and_change_nothing()
    {
        (DesignMatrix x, double[] y, Clusters sets) = Infertility();
        ConditionalLogisticFit plain = ConditionalLogisticRegression.Fit(x, y, sets);
        int[] rows = [.. Enumerable.Range(0, x.Rows), 0, 1, 2];
        double[] more = [.. y, 0, 0, 0];
        int[] ids = [.. Enumerable.Range(0, x.Rows).Select(i => sets.ClusterOfRow[i]), 1000, 1000, 1001];
        ConditionalLogisticFit padded = ConditionalLogisticRegression.Fit(x.SelectRows(rows), more, Clusters.From(ids));
        Assert.Equal(plain.Coefficients.Values, padded.Coefficients.Values);
        Assert.Equal(plain.ContributingSets, padded.ContributingSets);
        Assert.Contains("2 of 85 sets", Assert.Single(padded.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void More_cases_than_others_is_the_same_question_turned_round()
    {
        (DesignMatrix x, double[] y, Clusters sets) = Infertility();
        ConditionalLogisticFit plain = ConditionalLogisticRegression.Fit(x, y, sets);
        ConditionalLogisticFit turned = ConditionalLogisticRegression.Fit(x, [.. y.Select(v => 1 - v)], sets);
        Close.Relative(-plain.Coefficients.Values[0], turned.Coefficients.Values[0], 1e-9);
        Close.Relative(plain.LogLikelihood, turned.LogLikelihood, 1e-12);
    }

    [Fact]
    public void Every_set_a_cluster_is_the_plain_sandwich_of_sets()
    {
        (DesignMatrix x, double[] y, Clusters sets) = Infertility();
        ConditionalLogisticFit fit = ConditionalLogisticRegression.Fit(x, y, sets, sets, new() { Variance = ClusterVariance.CR0 });
        Assert.Equal(83, fit.ClusterCount);
        Assert.InRange(fit.Coefficients.StandardError(0) / Math.Sqrt(fit.ModelBasedCovariance[0, 0]), 0.8, 1.25);
        Assert.Throws<InvalidInputError>(() => ConditionalLogisticRegression.Fit(x, y, sets, Clusters.EachRow(x.Rows)));
    }

    [Fact]
    public void A_column_that_never_differs_inside_a_set_is_named()
    {
        (double[] exposed, double[] y, int[] pair) = Pairs(4, 3, 2);
        DesignMatrix x = DesignMatrix.FromColumns(("age", [.. pair.Select(p => 10.0 + p)]), ("exposed", exposed));
        Assert.Equal(["age"], Assert.Throws<RankDeficientError>(() => ConditionalLogisticRegression.Fit(x, y, Clusters.From(pair))).Columns);
    }

    [Fact]
    public void Separation_within_sets_and_sets_without_contrast_are_refused()
    {
        (double[] exposed, double[] y, int[] pair) = Pairs(6, 0, 2);
        DesignMatrix x = DesignMatrix.FromColumns(("exposed", exposed));
        Assert.Equal(["exposed"], Assert.Throws<SeparationError>(() => ConditionalLogisticRegression.Fit(x, y, Clusters.From(pair))).Columns);
        Assert.Throws<TooFewDataError>(() => ConditionalLogisticRegression.Fit(x, new double[y.Length], Clusters.From(pair)));
        Assert.Throws<InvalidInputError>(() => ConditionalLogisticRegression.Fit(DesignMatrix.WithIntercept(("exposed", exposed)), y, Clusters.From(pair)));
    }

    // The case is the first of each pair.
    private static (double[] Exposed, double[] Case, int[] Pair) Pairs(int caseOnly, int otherOnly, int alike)
    {
        int n = caseOnly + otherOnly + alike;
        double[] exposed = new double[2 * n];
        for (int i = 0; i < n; i++)
        {
            exposed[2 * i] = i < caseOnly || (i >= caseOnly + otherOnly && i % 2 == 0) ? 1 : 0;
            exposed[(2 * i) + 1] = (i >= caseOnly && i < caseOnly + otherOnly) || (i >= caseOnly + otherOnly && i % 2 == 0) ? 1 : 0;
        }
        return (exposed, [.. Enumerable.Range(0, 2 * n).Select(i => i % 2 == 0 ? 1.0 : 0)], [.. Enumerable.Range(0, 2 * n).Select(i => i / 2)]);
    }
}
