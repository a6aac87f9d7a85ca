using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class InfluenceTests
{
    [Fact]
    public void Shifts_and_distances_by_row_are_those_of_the_reference_library()
    {
        ReferenceCase reference = ReferenceCase.Read("Linear/weighted_linear");
        double[] w = reference.Column("w");
        LinearRegressionResult fit = LinearRegressionTests.WeightedFit();
        Influence influence = Influence.ByRow(fit);
        int at = 0;
        for (int i = 0; i < 40; i++)
        {
            if (w[i] == 0)
            {
                Assert.Equal(0, influence.Shift(i, 1));
                continue;
            }
            Close.Relative(reference.Number($"leverage/{at}"), fit.Leverage[i], 1e-9, "leverage");
            Close.Relative(reference.Number($"cook/{at}"), influence.CooksDistance[i], 1e-8, "Cook's distance");
            for (int k = 0; k < 5; k++)
                Assert.True(Math.Abs(reference.Number($"dfbeta/{at}/{k}") - influence.Shift(i, k)) < 1e-9 * fit.ModelBased.StandardError(k), $"row {i} term {k}");
            at++;
        }
    }

    [Theory]
    [InlineData(2)]
    [InlineData(8)]
    public void The_shift_of_a_cluster_is_the_difference_of_two_fits(int size)
    {
        ReferenceCase reference = ReferenceCase.Read("Linear/cluster_robust");
        DesignMatrix x = DesignMatrix.WithIntercept(("x", reference.Column("x")), ("t", reference.Column("t")));
        double[] y = reference.Column("y");
        double[] w = reference.Column("w");
        Clusters clusters = Clusters.From([.. Enumerable.Range(0, y.Length).Select(i => i / size)]);
        LinearRegressionResult fit = LinearRegression.Fit(x, y, w);
        Influence influence = Influence.ByCluster(fit, clusters);
        for (int c = 0; c < clusters.Count; c++)
        {
            int[] kept = [.. Enumerable.Range(0, y.Length).Where(i => clusters.ClusterOfRow[i] != c)];
            LinearRegressionResult without = LinearRegression.Fit(x.SelectRows(kept), [.. kept.Select(i => y[i])], [.. kept.Select(i => w[i])]);
            for (int k = 0; k < 3; k++)
                Close.Relative(fit.ModelBased.Values[k] - without.ModelBased.Values[k], influence.Shift(c, k), 1e-9, $"cluster {c} term {k}");
        }
        int most = influence.MostInfluential("x", 1)[0];
        Assert.All(Enumerable.Range(0, clusters.Count), c => Assert.True(Math.Abs(influence.Shift(c, 1)) <= Math.Abs(influence.Shift(most, 1))));
    }

    [Fact]
    public void A_row_that_alone_carries_a_coefficient_is_listed_as_undeletable()
    {
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.WithIntercept(("a", [1, 2, 3, 4, 5]), ("own", [0, 0, 0, 1, 0])), [1, 3, 2, 9, 5]);
        Assert.Equal([3], Influence.ByRow(fit).Undeletable);
    }
}
