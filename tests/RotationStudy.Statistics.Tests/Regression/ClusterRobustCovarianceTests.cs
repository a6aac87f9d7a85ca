using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Tests.Regression;

public class ClusterRobustCovarianceTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Linear/cluster_robust");

    [Theory]
    [InlineData("ols")]
    [InlineData("wls_target_inverse_weights")]
    [InlineData("logit")]
    public void Cluster_robust_standard_errors_are_those_of_the_reference_library(string id)
    {
        WorkingLeastSquares fit = Fit(id);
        foreach (ClusterVariance variance in Enum.GetValues<ClusterVariance>())
        {
            Coefficients robust = ClusterRobustCovariance.Estimate(fit, Persons(), variance);
            for (int k = 0; k < 4; k++)
                Close.Relative(Reference.Number($"cases/{id}/cr/{variance}/{k}"), robust.StandardError(k), 1e-8, $"{id} {variance} {k}");
        }
    }

    [Theory]
    [InlineData("ols")]
    [InlineData("wls_target_inverse_weights")]
    [InlineData("logit")]
    public void Satterthwaite_degrees_of_freedom_are_those_of_the_reference_library(string id)
    {
        Coefficients robust = ClusterRobustCovariance.Estimate(Fit(id), Persons(), ClusterVariance.CR2);
        for (int k = 0; k < 4; k++)
            Close.Relative(Reference.Number($"cases/{id}/cr2_df/{k}"), robust.DegreesOfFreedom[k], 1e-8, $"{id} df {k}");
    }

    [Theory]
    [InlineData("ols")]
    [InlineData("wls_target_inverse_weights")]
    [InlineData("logit")]
    public void Hotelling_test_of_three_slopes_is_that_of_the_reference_library(string id)
    {
        Contrasts slopes = Contrasts.FromRows([0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]);
        TestResult test = ClusterRobustWaldTest.Test(Fit(id), Persons(), ClusterVariance.CR2, slopes);
        Close.Relative(Reference.Number($"cases/{id}/htz/F"), test.Statistic, 1e-8, "F");
        Close.Relative(Reference.Number($"cases/{id}/htz/df2"), test.DenominatorDegreesOfFreedom, 1e-8, "df");
        Close.Relative(Reference.Number($"cases/{id}/htz/p"), test.PValue, 1e-8, "p");
    }

    [Theory]
    [InlineData("ols")]
    [InlineData("logit")]
    public void Two_ways_of_clustering_are_those_of_the_reference_library(string id)
    {
        Clusters raters = Clusters.From(Reference.Text("rater"));
        foreach (ClusterVariance variance in new[] { ClusterVariance.CR0, ClusterVariance.CR1ClustersOnly })
        {
            Coefficients robust = ClusterRobustCovariance.TwoWay(Fit(id), Persons(), raters, variance);
            for (int k = 0; k < 4; k++)
                Close.Relative(Reference.Number($"cases/{id}/twoway_{variance}/{k}"), robust.StandardError(k), 1e-8, $"{id} {variance} {k}");
        }
    }

    [Theory]
    [InlineData(ClusterVariance.CR0, HeteroskedasticityVariance.HC0)]
    [InlineData(ClusterVariance.CR2, HeteroskedasticityVariance.HC2)]
    [InlineData(ClusterVariance.CR3, HeteroskedasticityVariance.HC3)]
    public void With_every_row_a_cluster_the_variance_is_that_for_independent_rows(ClusterVariance cluster, HeteroskedasticityVariance row)
    {
        WorkingLeastSquares fit = Fit("wls_target_inverse_weights");
        Coefficients a = ClusterRobustCovariance.Estimate(fit, Clusters.EachRow(fit.Design.Rows), cluster);
        Coefficients b = HeteroskedasticityRobustCovariance.Estimate(fit, row);
        for (int k = 0; k < 4; k++)
            Close.Relative(b.StandardError(k), a.StandardError(k), 1e-12, $"{cluster} {k}");
    }

    [Fact]
    public void Scores_give_the_same_variance_as_design_and_residuals()
    {
        WorkingLeastSquares fit = Fit("logit");
        double[] scores = new double[fit.Design.Rows * 4];
        for (int i = 0; i < scores.Length; i++)
            scores[i] = fit.Design.Values[i] * fit.ScoreResiduals[i % fit.Design.Rows];
        SymmetricMatrix bread = fit.FromWhitened([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1]);
        Coefficients direct = ClusterRobustCovariance.Estimate(fit, Persons(), ClusterVariance.CR1);
        Coefficients viaScores = ClusterRobustCovariance.FromScores(fit.Values, bread, scores, Persons(), ClusterVariance.CR1);
        for (int k = 0; k < 4; k++)
            Close.Relative(direct.StandardError(k), viaScores.StandardError(k), 1e-11);
    }

    [Fact]
    public void A_row_of_weight_zero_is_as_good_as_absent()
    {
        DesignMatrix x = Design();
        double[] y = Reference.Column("y");
        double[] w = Reference.Column("w");
        int n = y.Length;
        (w[3], w[n - 1], w[n - 2]) = (0, 0, 0);
        int[] kept = [.. Enumerable.Range(0, n).Where(i => w[i] > 0)];
        WorkingLeastSquares full = WorkingFits.Linear(x, y, w);
        WorkingLeastSquares some = WorkingFits.Linear(x.SelectRows(kept), [.. kept.Select(i => y[i])], [.. kept.Select(i => w[i])]);
        foreach (ClusterVariance variance in Enum.GetValues<ClusterVariance>())
        {
            Coefficients a = ClusterRobustCovariance.Estimate(full, Persons(), variance);
            Coefficients b = ClusterRobustCovariance.Estimate(some, Persons().SelectRows(kept), variance);
            for (int k = 0; k < 4; k++)
            {
                Close.Relative(b.StandardError(k), a.StandardError(k), 1e-11, variance.ToString());
                if (variance == ClusterVariance.CR0)
                    Assert.Equal(double.PositiveInfinity, a.DegreesOfFreedom[k]);
                else
                    Close.Relative(b.DegreesOfFreedom[k], a.DegreesOfFreedom[k], 1e-10);
            }
        }
    }

    [Theory]
    [InlineData(2, 12)]
    [InlineData(30, 12)]
    [InlineData(130, 12)]
    [InlineData(3, ClusterAdjustment.ManyClusters + 1)]
    public void Every_way_to_the_square_root_satisfies_its_criterion(int size, int count)
    {
        // K (I - YY') K' = I, whichever of the closed form, the dense, the low-rank and the series route is taken.
        Random random = new(11);
        int n = size * count;
        double[] t = [.. Enumerable.Range(0, n).Select(_ => random.NextDouble())];
        double[] y = [.. t.Select(v => v + random.NextDouble())];
        double[] w = [.. t.Select(_ => 0.2 + random.NextDouble())];
        foreach (double[] weights in new[] { [], w })
        {
            WorkingLeastSquares fit = WorkingFits.Linear(DesignMatrix.WithIntercept(("t", t)), y, weights);
            ClusterAdjustment adjustment = new(fit, Clusters.From([.. Enumerable.Range(0, n).Select(i => i / size)]), ClusterVariance.CR2);
            adjustment.Load(5);
            double[] v = [.. Enumerable.Range(0, size).Select(_ => random.NextDouble() - 0.5)];
            double[] half = new double[size];
            double[] whole = new double[size];
            adjustment.Apply(v, half, transposed: true);
            double before = v.Sum(e => e * e);
            double[] z = new double[2];
            for (int i = 0; i < size; i++)
            {
                for (int k = 0; k < 2; k++)
                    z[k] += adjustment.WhitenedRow(i)[k] * half[i];
            }
            double after = half.Sum(e => e * e) - (z[0] * z[0]) - (z[1] * z[1]);
            Close.Relative(before, after, 1e-12, $"v'KBK'v, {size} rows");
            adjustment.Apply(half, whole, transposed: false);
            Assert.True(whole.Zip(v).Sum(e => e.First * e.Second) > before);
        }
    }

    [Fact]
    public void A_cluster_absorbed_by_an_indicator_of_its_own_is_as_good_as_absent()
    {
        // Cluster 5 has two rows; an indicator for each of them absorbs it. Cluster 1 has one row, absorbed by one indicator.
        int[] id = [.. Reference.Text("cluster").Select(int.Parse)];
        double[] t = Reference.Column("t");
        double[] y = Reference.Column("y");
        int first = Array.IndexOf(id, 5);
        double[] Only(int row) => [.. Enumerable.Range(0, id.Length).Select(i => i == row ? 1.0 : 0.0)];
        int[] others = [.. Enumerable.Range(0, id.Length).Where(i => id[i] is not (1 or 5))];
        WorkingLeastSquares absorbed = WorkingFits.Linear(
            DesignMatrix.WithIntercept(("t", t), ("one", Only(0)), ("two", Only(first)), ("three", Only(first + 1))), y, []);
        WorkingLeastSquares absent = WorkingFits.Linear(
            DesignMatrix.WithIntercept(("t", t)).SelectRows(others), [.. others.Select(i => y[i])], []);
        Coefficients a = ClusterRobustCovariance.Estimate(absorbed, Persons(), ClusterVariance.CR2);
        Coefficients b = ClusterRobustCovariance.Estimate(absent, Persons().SelectRows(others), ClusterVariance.CR2);
        Close.Relative(b.StandardError(1), a.StandardError(1), 1e-10);
        Close.Relative(b.DegreesOfFreedom[1], a.DegreesOfFreedom[1], 1e-10);
    }

    [Fact]
    public void A_coefficient_that_one_cluster_alone_carries_has_no_degrees_of_freedom_and_no_interval()
    {
        WorkingLeastSquares fit = WorkingFits.Linear(
            DesignMatrix.FromColumns(("alone", [1, 1, 0, 0, 0, 0]), ("others", [0, 0, 1, 1, 1, 1])), [3, 4, 5, 7, 6, 9], []);
        Coefficients robust = ClusterRobustCovariance.Estimate(fit, Clusters.From([1, 1, 2, 2, 3, 3]), ClusterVariance.CR2);
        Assert.Equal(0, robust.DegreesOfFreedom[0]);
        Assert.True(robust.DegreesOfFreedom[1] > 0);
        Assert.Throws<InvalidInputError>(() => robust.Estimate("alone"));
    }

    [Fact]
    public void Two_ways_are_refused_with_corrections_that_are_not_defined_for_them_and_scores_without_leverage_likewise()
    {
        WorkingLeastSquares fit = Fit("ols");
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => ClusterRobustCovariance.TwoWay(fit, Persons(), Persons(), ClusterVariance.CR2));
        Assert.Contains("not defined for two ways", error.Message, StringComparison.Ordinal);
        SymmetricMatrix bread = new(fit.Design.Names, SmallMatrix.Identity(4));
        Assert.Throws<InvalidInputError>(
            () => ClusterRobustCovariance.FromScores(fit.Values, bread, fit.Design.Values, Persons(), ClusterVariance.CR3));
    }

    [Fact]
    public void Two_ways_that_are_the_same_way_give_the_one_way_answer()
    {
        WorkingLeastSquares fit = Fit("ols");
        Coefficients one = ClusterRobustCovariance.Estimate(fit, Persons(), ClusterVariance.CR1);
        Coefficients two = ClusterRobustCovariance.TwoWay(fit, Persons(), Persons(), ClusterVariance.CR1);
        for (int k = 0; k < 4; k++)
            Close.Relative(one.StandardError(k), two.StandardError(k), 1e-12);
    }

    [Fact]
    public void One_cluster_is_refused()
    {
        WorkingLeastSquares fit = Fit("ols");
        Clusters one = Clusters.From(new int[fit.Design.Rows]);
        TooFewDataError error = Assert.Throws<TooFewDataError>(() => ClusterRobustCovariance.Estimate(fit, one, ClusterVariance.CR1));
        Assert.Contains("no variance between clusters", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Shuffling_rows_changes_nothing_but_the_last_digits()
    {
        int[] order = [.. Enumerable.Range(0, Design().Rows).OrderBy(i => (i * 7919) % 62)];
        double[] y = Reference.Column("y");
        WorkingLeastSquares shuffled = WorkingFits.Linear(Design().SelectRows(order), [.. order.Select(i => y[i])], []);
        Coefficients a = ClusterRobustCovariance.Estimate(Fit("ols"), Persons(), ClusterVariance.CR2);
        Coefficients b = ClusterRobustCovariance.Estimate(shuffled, Persons().SelectRows(order), ClusterVariance.CR2);
        for (int k = 0; k < 4; k++)
        {
            Close.Relative(a.StandardError(k), b.StandardError(k), 1e-12);
            Close.Relative(a.DegreesOfFreedom[k], b.DegreesOfFreedom[k], 1e-11);
        }
    }

    private static DesignMatrix Design()
        => DesignMatrix.WithIntercept(("x", Reference.Column("x")), ("z", Reference.Column("z")), ("t", Reference.Column("t")));

    private static Clusters Persons() => Clusters.From(Reference.Text("cluster"));

    private static WorkingLeastSquares Fit(string id)
        => id switch
        {
            "ols" => WorkingFits.Linear(Design(), Reference.Column("y"), []),
            "logit" => WorkingFits.Logistic(Design(), Reference.Column("b"), [.. Enumerable.Range(0, 4).Select(k => Reference.Number($"cases/logit/coef/{k}"))]),
            _ => WorkingFits.Linear(Design(), Reference.Column("y"), Reference.Column("w")),
        };
}
