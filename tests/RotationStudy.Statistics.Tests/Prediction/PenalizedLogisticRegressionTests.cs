using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Prediction;

public class PenalizedLogisticRegressionTests
{
    private static readonly ReferenceCase Births = ReferenceCase.Read("Prediction/penalized");
    private static readonly string[] Names = ["age", "lwt", "black", "other", "smoke", "ptl", "ht", "ui"];
    private static readonly DesignMatrix X = DesignMatrix.FromColumns([.. Names.Select(n => (n, (IReadOnlyList<double>)Births.Column(n)))]);
    private static readonly double[] Low = Births.Column("low");

    [Theory]
    [InlineData("ridge", CoefficientPenalty.Ridge)]
    [InlineData("lasso", CoefficientPenalty.Lasso)]
    public void The_birth_weight_data_give_the_coefficients_of_the_reference_library(string name, CoefficientPenalty penalty)
    {
        IReadOnlyList<PenalizedFit> path = PenalizedLogisticRegression.Path(X, Low, penalty, [.. Enumerable.Range(0, 4).Select(i => Births.Number($"{name}/{i}/strength"))]);
        for (int i = 0; i < 4; i++)
        {
            Assert.Equal(Births.Number($"{name}/{i}/intercept"), path[i].Intercept, 1e-6);
            for (int j = 0; j < Names.Length; j++)
                Assert.Equal(Births.Number($"{name}/{i}/values/{Names[j]}"), path[i].Values[j], 1e-7);
        }
    }

    [Fact]
    public void The_largest_strength_leaves_no_column_and_a_little_less_leaves_one()
    {
        double largest = PenalizedLogisticRegression.Strengths(X, Low, CoefficientPenalty.Lasso)[0];
        Close.Relative(Births.Number("largest_lasso"), largest, 1e-12);
        Assert.Equal(0, PenalizedLogisticRegression.Fit(X, Low, CoefficientPenalty.Lasso, largest * 1.0001).Used);
        Assert.Equal(1, PenalizedLogisticRegression.Fit(X, Low, CoefficientPenalty.Lasso, largest * 0.999).Used);
    }

    [Fact]
    public void Hardly_any_penalty_is_maximum_likelihood()
    {
        PenalizedFit found = PenalizedLogisticRegression.Fit(X, Low, CoefficientPenalty.Ridge, 1e-10);
        GeneralizedLinearFit expected = LogisticRegression.Fit(DesignMatrix.WithIntercept([.. Names.Select(n => (n, (IReadOnlyList<double>)Births.Column(n)))]), Low);
        for (int j = 0; j < Names.Length; j++)
            Close.Relative(expected.Coefficients.Values[j + 1], found.Values[j], 1e-6, Names[j]);
    }

    [Fact]
    public void The_unit_of_a_column_does_not_matter()
    {
        DesignMatrix other = DesignMatrix.FromColumns([.. Names.Select(n => (n, (IReadOnlyList<double>)[.. Births.Column(n).Select(v => n == "lwt" ? (v / 2.2) + 7 : v)]))]);
        PenalizedFit plain = PenalizedLogisticRegression.Fit(X, Low, CoefficientPenalty.Lasso, 0.01);
        PenalizedFit changed = PenalizedLogisticRegression.Fit(other, Low, CoefficientPenalty.Lasso, 0.01);
        Close.Relative(2.2 * plain.Values[1], changed.Values[1], 1e-8);
        Close.Relative(plain.Risks(X)[5], changed.Risks(other)[5], 1e-8);
    }

    [Fact]
    public void Separated_rows_have_a_finite_fit()
    {
        PenalizedFit found = PenalizedLogisticRegression.Fit(DesignMatrix.FromColumns(("x", [1, 2, 3, 4.0])), [0, 0, 1, 1.0], CoefficientPenalty.Ridge, 0.1);
        Assert.InRange(found.Values[0], 0.1, 10);
    }

    [Fact]
    public void A_constant_column_a_strength_of_zero_and_no_event_are_refused()
    {
        DesignMatrix constant = DesignMatrix.FromColumns(("x", [1, 1, 1, 1.0]));
        Assert.Equal("x", Assert.Throws<InvalidInputError>(() => PenalizedLogisticRegression.Fit(constant, [0, 1, 0, 1.0], CoefficientPenalty.Ridge, 1)).Column);
        Assert.Contains("no penalty", Assert.Throws<InvalidInputError>(() => PenalizedLogisticRegression.Fit(X, Low, CoefficientPenalty.Ridge, 0)).Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => PenalizedLogisticRegression.Fit(X, new double[189], CoefficientPenalty.Ridge, 1));
    }

    [Fact]
    public void Cross_validation_keeps_clusters_together_and_is_the_same_from_the_same_seed()
    {
        Clusters pairs = Clusters.From([.. Enumerable.Range(0, 189).Select(i => i / 2)]);
        CrossValidatedFit first = CrossValidatedPenalty.Choose(X, Low, pairs, CoefficientPenalty.Lasso, 10, new RandomStream(3, "folds"));
        CrossValidatedFit second = CrossValidatedPenalty.Choose(X, Low, pairs, CoefficientPenalty.Lasso, 10, new RandomStream(3, "folds"));
        Assert.Equal(first.Deviance, second.Deviance);
        Assert.Equal(first.Strengths[first.Deviance.ToList().IndexOf(first.Deviance.Min())], first.Fit.Strength);
        Assert.True(first.Deviance.Min() < first.Deviance[0], "a model should beat the overall risk here");
        Assert.Contains("cannot be dealt", Assert.Throws<TooFewDataError>(() => CrossValidatedPenalty.Choose(
            X, Low, Clusters.From(new int[189]), CoefficientPenalty.Lasso, 10, new RandomStream(3, "folds"))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Columns_that_say_nothing_are_drawn_to_zero()
    {
        // 400 rows, ten columns of noise: the chosen lasso predicts about the overall risk for all.
        RandomStream random = new(17, "noise");
        DesignMatrix noise = DesignMatrix.FromColumns([.. Enumerable.Range(0, 10).Select(j => ($"x{j}", (IReadOnlyList<double>)[.. Enumerable.Range(0, 400).Select(_ => random.Normal())]))]);
        double[] outcome = [.. Enumerable.Range(0, 400).Select(_ => random.Bernoulli(0.3) ? 1.0 : 0.0)];
        PenalizedFit fit = CrossValidatedPenalty.Choose(noise, outcome, Clusters.EachRow(400), CoefficientPenalty.Lasso, 10, new RandomStream(17, "folds")).Fit;
        Assert.All(fit.Values, v => Assert.InRange(v, -0.25, 0.25));
    }
}
