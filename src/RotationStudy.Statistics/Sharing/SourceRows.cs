using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Sharing;

/// <summary>The rows of one source of a regression that is fitted from sums of several.</summary>
/// <remarks>
/// A row leaves the source only as part of a sum. See <see cref="SharedRegression"/> for what becomes of the sums.
/// </remarks>
public sealed class SourceRows
{
    private readonly SharedFamily family;
    private readonly DesignMatrix x;
    private readonly double[] outcome;
    private readonly double[] offset;
    private readonly Clusters clusters;

    /// <summary>Checks and keeps the rows.</summary>
    /// <param name="family">The regression.</param>
    /// <param name="x">Design, n by p; all sources have the same columns.</param>
    /// <param name="outcome">Outcome, length n: any number, 0 or 1, or a count.</param>
    /// <param name="offset">A known part of the linear predictor, length n, or empty.</param>
    /// <param name="clusters">Which rows may be dependent.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, NaN or infinity, an outcome outside its range.</exception>
    public SourceRows(SharedFamily family, DesignMatrix x, ReadOnlySpan<double> outcome, ReadOnlySpan<double> offset, Clusters clusters)
    {
        Require.SameLength(outcome.Length, x.Rows, "outcome");
        Require.SameLength(clusters.Rows, x.Rows, "clusters");
        Require.Finite(outcome, "outcome");
        Require.Finite(offset, "offset");
        if (!offset.IsEmpty)
            Require.SameLength(offset.Length, x.Rows, "offset");
        for (int i = 0; i < outcome.Length; i++)
        {
            bool fits = family switch
            {
                SharedFamily.Logistic => outcome[i] is 0 or 1,
                SharedFamily.Poisson => outcome[i] >= 0 && outcome[i] == Math.Floor(outcome[i]),
                _ => true,
            };
            if (!fits)
                throw new InvalidInputError(FormattableString.Invariant($"'outcome' holds {outcome[i]} in row {i}, which this regression does not allow"), "Code an event as 1 and none as 0; counts are whole numbers from zero.", i, "outcome");
        }
        this.family = family;
        this.x = x;
        this.outcome = outcome.ToArray();
        this.offset = offset.ToArray();
        this.clusters = clusters;
    }

    /// <summary>How many cells of columns and outcome the rows have: what sums should hide.</summary>
    public int Cells => x.Rows * x.Columns;

    /// <summary>How many numbers <see cref="At"/> hands out beside the plain sums when products within clusters are asked for.</summary>
    public int NumbersOfProducts => ClusterProducts.CountFor(x.Columns);

    /// <summary>Score, information and log-likelihood at some coefficients.</summary>
    /// <param name="estimate">Coefficients, length p.</param>
    /// <param name="withProducts">Whether to add the products within clusters, for least squares.</param>
    public RegressionSums At(IReadOnlyList<double> estimate, bool withProducts = false)
    {
        double[] b = [.. estimate];
        Require.SameLength(b.Length, x.Columns, "coefficients");
        RowDerivatives rows = Derivatives(b);
        double[] score = new double[x.Columns];
        double[] information = new double[x.Columns * x.Columns];
        CrossProduct.WithVector(x, rows.Score, score);
        CrossProduct.Weighted(x, rows.Weight, information);
        return new RegressionSums(
            family, x.Names, b, x.Rows, clusters.Count, rows.LogLikelihood, score, information,
            withProducts && family == SharedFamily.Linear ? ClusterProducts.Of(x, rows.Score, clusters) : null);
    }

    /// <summary>The part of these clusters in the covariance CR2 of a finished fit.</summary>
    /// <param name="estimate">Coefficients reached, length p.</param>
    /// <param name="bread">Inverse information of all sources at these, p by p.</param>
    /// <param name="clustersOfAll">Clusters of all sources.</param>
    public RobustSums Robust(IReadOnlyList<double> estimate, SymmetricMatrix bread, int clustersOfAll)
    {
        double[] b = [.. estimate];
        Require.SameLength(b.Length, x.Columns, "coefficients");
        RowDerivatives rows = Derivatives(b);
        double[] weights = family == SharedFamily.Linear ? [] : rows.Weight;
        WorkingLeastSquares fit = WorkingLeastSquares.FromBread(x, weights, rows.Score, b, bread);
        ClusterAdjustment adjustment = new(fit, clusters, ClusterVariance.CR2, clustersOfAll);
        SymmetricMatrix covariance = fit.FromWhitened(ClusterRobustCovariance.WhitenedMeat(fit, clusters, adjustment));
        SatterthwaiteSums sums = SatterthwaiteMoments.SumsOfCoefficients(fit, adjustment, clusters.Count);
        return new RobustSums(x.Rows, clusters.Count, covariance.Values.ToArray(), sums.Mean, sums.Variance, sums.Products);
    }

    private RowDerivatives Derivatives(double[] b)
    {
        double[] eta = new double[x.Rows];
        CrossProduct.LinearPredictor(x, b, offset, eta);
        return RowDerivatives.At(family, outcome, eta);
    }
}
