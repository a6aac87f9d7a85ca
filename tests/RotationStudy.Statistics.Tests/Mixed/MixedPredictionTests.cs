using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.Statistics.Tests.Mixed;

/// <summary>Predictions against the dense formula of best linear unbiased prediction (Goldberger 1962; Robinson 1991).</summary>
public class MixedPredictionTests
{
    private static readonly ReferenceCase Cohort = ReferenceCase.Read("Mixed/nested_and_crossed");

    [Fact]
    public void Known_and_new_groups_agree_with_the_dense_formula()
    {
        LinearMixedModelFit fit = Fit();
        int n = fit.Rows;
        DesignMatrix x = DesignMatrix.WithIntercept(("time", [1.5, 1.5, 1.5, 0.0]));
        DesignMatrix z = x;
        int unit = fit.Terms[0].Groups.ClusterOfRow[40];
        int person = fit.Terms[1].Groups.ClusterOfRow[40];
        int?[][] groups = [[unit, person, 2], [null, person, 2], [null, null, 2], [null, null, null]];
        IReadOnlyList<MixedPrediction> predictions = fit.Predict(
            x, [.. fit.Terms.Select((t, k) => new RandomTermRows(t.Name, [.. groups.Select(g => g[k])], t.Columns is null ? null : z))]);
        Matrix<double> v = DenseMatrix.Create(n, n, (i, j) => (i == j ? fit.ResidualVariance : 0) + Shared(fit, k => SameGroup(fit, k, i, j), [1, fit.Design[i, 1]], [1, fit.Design[j, 1]]));
        Matrix<double> design = DenseMatrix.Create(n, 2, (i, j) => fit.Design[i, j]);
        Matrix<double> inverse = v.Inverse();
        Matrix<double> phi = (design.Transpose() * inverse * design).Inverse();
        Vector<double> y = DenseVector.OfEnumerable(fit.Outcome);
        Vector<double> b = phi * (design.Transpose() * (inverse * y));
        for (int row = 0; row < 4; row++)
        {
            double[] own = [1, x[row, 1]];
            Vector<double> c = DenseVector.Create(n, i => Shared(fit, k => groups[row][k] == fit.Terms[k].Groups.ClusterOfRow[i], own, [1, fit.Design[i, 1]]));
            Vector<double> x0 = DenseVector.OfArray(own);
            double mean = (x0 * b) + (c * (inverse * (y - (design * b))));
            Vector<double> left = x0 - (design.Transpose() * (inverse * c));
            double variance = Shared(fit, _ => true, own, own) - (c * (inverse * c)) + (left * (phi * left));
            Close.Relative(mean, predictions[row].Mean, 1e-8, "mean");
            Close.Relative(1.959963984540054 * Math.Sqrt(variance), predictions[row].MeanInterval.Upper - predictions[row].Mean, 1e-7, "mean interval");
            Close.Relative(1.959963984540054 * Math.Sqrt(variance + fit.ResidualVariance), predictions[row].RowInterval.Upper - predictions[row].Mean, 1e-7, "row interval");
        }
    }

    [Fact]
    public void A_unit_in_another_person_is_refused()
    {
        LinearMixedModelFit fit = Fit();
        DesignMatrix x = DesignMatrix.WithIntercept(("time", [1.0]));
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => fit.Predict(x, [new RandomTermRows("unit", [0]), new RandomTermRows("person", [7], x), new RandomTermRows("rater", [0])]));
        Assert.Contains("does not lie within", error.Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => fit.Predict(x, [new RandomTermRows("unit", [0])]));
    }

    private static LinearMixedModelFit Fit()
    {
        DesignMatrix x = DesignMatrix.WithIntercept(("time", Cohort.Column("time")));
        return LinearMixedModel.Fit(
            x,
            Cohort.Column("y"),
            [new RandomTerm("unit", Clusters.From(Cohort.Text("unitid"))), new RandomTerm("person", Clusters.From(Cohort.Text("person")), x), new RandomTerm("rater", Clusters.From(Cohort.Text("rater")))]);
    }

    private static bool SameGroup(LinearMixedModelFit fit, int term, int i, int j)
        => fit.Terms[term].Groups.ClusterOfRow[i] == fit.Terms[term].Groups.ClusterOfRow[j];

    // Covariance of the random parts of two rows with multipliers (1, time).
    private static double Shared(LinearMixedModelFit fit, Func<int, bool> same, double[] a, double[] b)
    {
        double sum = 0;
        if (same(0))
            sum += fit.Variance("unit");
        if (same(1))
        {
            double covariance = fit.VarianceComponents.First(c => c.OtherColumn is not null).Value;
            sum += fit.Variance("person") + (covariance * (a[1] + b[1])) + (fit.Variance("person", "time") * a[1] * b[1]);
        }
        if (same(2))
            sum += fit.Variance("rater");
        return sum;
    }
}
