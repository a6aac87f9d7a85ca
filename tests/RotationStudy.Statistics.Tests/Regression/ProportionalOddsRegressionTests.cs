using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class ProportionalOddsRegressionTests
{
    private static readonly string[] Satisfaction = ["Low", "Medium", "High"];

    internal static (DesignMatrix X, int[] Categories, double[] Frequencies, Clusters Cells) Housing()
    {
        ReferenceCase data = ReferenceCase.Read("Ordinal/housing");
        double[] Is(string column, string value) => [.. data.Text(column).Select(t => t == value ? 1.0 : 0)];
        DesignMatrix x = DesignMatrix.FromColumns(
            ("InflMedium", Is("Infl", "Medium")), ("InflHigh", Is("Infl", "High")), ("TypeApartment", Is("Type", "Apartment")), ("TypeAtrium", Is("Type", "Atrium")),
            ("TypeTerrace", Is("Type", "Terrace")), ("ContHigh", Is("Cont", "High")));
        string[] cells = [.. Enumerable.Range(0, x.Rows).Select(i => data.Text("Infl")[i] + data.Text("Type")[i] + data.Text("Cont")[i])];
        return (x, [.. data.Text("Sat").Select(s => Array.IndexOf(Satisfaction, s))], data.Column("Freq"), Clusters.From(cells));
    }

    [Fact]
    public void Two_categories_are_a_logistic_regression()
    {
        (DesignMatrix births, double[] low) = LogisticRegressionTests.BirthWeights("age", "smoke");
        GeneralizedLinearFit logistic = LogisticRegression.Fit(births, low);
        ProportionalOddsFit ordinal = ProportionalOddsRegression.Fit(births.SelectColumns([1, 2]), [.. low.Select(v => (int)v)], ["no", "yes"]);
        Close.Relative(-logistic.Coefficients.Values[0], ordinal.Coefficients.Values[0], 1e-9);
        Close.Relative(logistic.Coefficients.Values[1], ordinal.Coefficients.Values[1], 1e-9);
        Close.Relative(logistic.Coefficients.StandardError(2), ordinal.Coefficients.StandardError(2), 1e-9);
        Close.Relative(logistic.LogLikelihood, ordinal.LogLikelihood, 1e-12);
        Close.Relative(logistic.ScoreTest.Statistic, ordinal.ScoreTest.Statistic, 1e-9);
    }

    [Fact]
    public void Satisfaction_with_housing_agrees_with_the_reference_library_and_the_book_as_recalled()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters _) = Housing();
        ReferenceCase reference = ReferenceCase.Read("Ordinal/housing");
        ProportionalOddsFit fit = ProportionalOddsRegression.Fit(x, categories, Satisfaction, weights: frequencies);
        JsonElement expected = reference.Element("cases/clm");
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se"), fit.Coefficients, 1e-8);
        Close.Relative(expected.GetProperty("logLik").GetDouble(), fit.LogLikelihood, 1e-12);
        // Venables and Ripley, section 7.3: recalled, not re-read.
        for (int j = 0; j < 6; j++)
            Close.Printed(reference.Number($"published/coef/{j}"), fit.Coefficients.Values[2 + j], 3);
        Close.Printed(reference.Number("published/deviance"), -2 * fit.LogLikelihood, 3);
        Assert.Equal("threshold above Low", fit.Coefficients.Terms[0]);
    }

    [Fact]
    public void The_laxity_of_the_cohort_agrees_with_the_reference_library()
    {
        var persons = Peers.Cohort.Persons;
        DesignMatrix x = DesignMatrix.FromColumns(("age", persons["age"]), ("female", persons["female"]), ("avm", persons["avm"]));
        string[] labels = [.. Enumerable.Range(0, 10).Select(k => $"{k}")];
        ProportionalOddsFit fit = ProportionalOddsRegression.Fit(x, [.. persons["lax"].Select(v => (int)v)], labels);
        JsonElement expected = Peers.Estimates("clm_laxity");
        Peers.AssertEqual(expected.GetProperty("coef"), expected.GetProperty("se"), fit.Coefficients, 1e-6);
        Assert.True(fit.LogLikelihood >= expected.GetProperty("logLik").GetDouble() - 1e-9);
    }

    [Fact]
    public void The_cluster_sandwich_agrees_with_numerical_scores()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters cells) = Housing();
        int[] rows = [.. Enumerable.Range(0, x.Rows).SelectMany(i => Enumerable.Repeat(i, (int)frequencies[i]))];
        ProportionalOddsFit fit = ProportionalOddsRegression.Fit(
            x.SelectRows(rows), [.. rows.Select(i => categories[i])], Satisfaction, cells.SelectRows(rows), new() { Variance = ClusterVariance.CR0 });
        ReferenceCase reference = ReferenceCase.Read("Ordinal/proportionality");
        for (int j = 0; j < 8; j++)
            Close.Relative(reference.Number($"cases/cluster/se_CR0/{j}"), fit.Coefficients.StandardError(j), 1e-7);
        Assert.Equal(24, fit.ClusterCount);
        ProportionalOddsFit weighted = ProportionalOddsRegression.Fit(x, categories, Satisfaction, cells, new() { Variance = ClusterVariance.CR0 }, frequencies);
        Close.Relative(fit.Coefficients.StandardError(3), weighted.Coefficients.StandardError(3), 1e-9);
    }

    [Fact]
    public void Reversing_the_scale_turns_the_signs_round()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters _) = Housing();
        ProportionalOddsFit up = ProportionalOddsRegression.Fit(x, categories, Satisfaction, weights: frequencies);
        ProportionalOddsFit down = ProportionalOddsRegression.Fit(x, [.. categories.Select(c => 2 - c)], ["High", "Medium", "Low"], weights: frequencies);
        for (int j = 2; j < 8; j++)
            Close.Relative(-up.Coefficients.Values[j], down.Coefficients.Values[j], 1e-8);
        Close.Relative(-up.Coefficients.Values[0], down.Coefficients.Values[1], 1e-8);
    }

    [Fact]
    public void Probabilities_sum_to_one_and_reproduce_the_shares_on_average()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters _) = Housing();
        ProportionalOddsFit fit = ProportionalOddsRegression.Fit(x, categories, Satisfaction, weights: frequencies);
        IReadOnlyList<double> p = fit.Probabilities([0, 1, 0, 0, 1, 0]);
        Close.Relative(1, p.Sum(), 1e-14);
        Assert.All(p, v => Assert.InRange(v, 0, 1));
        // Threshold scores sum to zero: expected and observed numbers above each cut agree closely, not exactly, under this link.
        Assert.Equal(frequencies.Sum(), fit.CategoryCounts.Sum());
    }

    [Fact]
    public void An_empty_category_is_left_out_with_a_warning()
    {
        (DesignMatrix x, int[] categories, double[] frequencies, Clusters _) = Housing();
        ProportionalOddsFit plain = ProportionalOddsRegression.Fit(x, categories, Satisfaction, weights: frequencies);
        ProportionalOddsFit gap = ProportionalOddsRegression.Fit(x, [.. categories.Select(c => c == 2 ? 3 : c)], ["Low", "Medium", "Fair", "High"], weights: frequencies);
        Assert.Equal(plain.Coefficients.Values, gap.Coefficients.Values);
        Assert.Contains("Fair", Assert.Single(gap.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void Separation_names_the_column()
    {
        DesignMatrix x = DesignMatrix.FromColumns(("score", [1, 2, 3, 4, 5, 6, 7, 8, 9]), ("noise", [3, 1, 4, 1, 5, 9, 2, 6, 5]));
        Assert.Contains("score", Assert.Throws<SeparationError>(() => ProportionalOddsRegression.Fit(x, [0, 0, 0, 1, 1, 1, 2, 2, 2], Satisfaction)).Columns);
        DesignMatrix braced = DesignMatrix.FromColumns(("braced", [1, 1, 0, 0, 0, 0, 0, 0, 0]));
        Assert.Equal(["braced"], Assert.Throws<SeparationError>(() => ProportionalOddsRegression.Fit(braced, [2, 2, 0, 1, 2, 0, 1, 0, 1], Satisfaction)).Columns);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        DesignMatrix x = DesignMatrix.FromColumns(("a", [1, 2, 3, 5]));
        Assert.Throws<TooFewDataError>(() => ProportionalOddsRegression.Fit(x, [1, 1, 1, 1], Satisfaction));
        Assert.Equal(2, Assert.Throws<InvalidInputError>(() => ProportionalOddsRegression.Fit(x, [0, 1, 7, 1], Satisfaction)).Row);
        Assert.Throws<InvalidInputError>(() => ProportionalOddsRegression.Fit(DesignMatrix.InterceptOnly(4), [0, 1, 2, 1], Satisfaction));
        DesignMatrix constant = DesignMatrix.FromColumns(("site", [4, 4, 4, 4, 4, 4]));
        Assert.Equal(["site"], Assert.Throws<RankDeficientError>(() => ProportionalOddsRegression.Fit(constant, [0, 1, 2, 0, 1, 2], Satisfaction)).Columns);
    }
}
