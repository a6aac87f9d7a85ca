using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>
/// The last weighted least-squares step of a fit, which is all that a robust variance needs to know of it: linear
/// regression is one such step, a generalised linear model fitted by Fisher scoring ends in one.
/// </summary>
/// <remarks>
/// The estimating equations are X'r(b) = 0 with one score residual r per row, and the bread is (X'WX)^-1 with one
/// working weight w per row. Linear regression: w is the given weight and r = w (y - mu). A generalised linear model
/// with prior weights a: w = a (dmu/deta)^2 / V(mu) and r = a (y - mu) (dmu/deta) / V(mu); for a canonical link r = a
/// (y - mu). The dispersion stands in neither. Rows of weight zero carry no information and take no part.
/// <para> Internally the design is whitened: Y = W^(1/2) X N with N N' the bread, so that Y'Y = I. Leverages are then
/// the row sums of squares of Y, and every quantity keeps the accuracy of the factor N that the fit found (a QR fit
/// hands in R^-1).
/// </para>
/// </remarks>
internal sealed class WorkingLeastSquares
{
    private readonly Lazy<double[]> whitened;

    private WorkingLeastSquares(
        DesignMatrix design,
        double[] weights,
        double[] scoreResiduals,
        double[] values,
        double[] root,
        double residualDegreesOfFreedom,
        double[] responseVariances)
    {
        Require.SameLength(scoreResiduals.Length, design.Rows, "score residuals");
        Require.SameLength(values.Length, design.Columns, "coefficients");
        if (weights.Length > 0)
            Require.SameLength(weights.Length, design.Rows, "weights");
        if (responseVariances.Length > 0)
            Require.SameLength(responseVariances.Length, design.Rows, "response variances");
        Design = design;
        Weights = weights;
        ScoreResiduals = scoreResiduals;
        Values = values;
        ResponseVariances = responseVariances;
        BreadRoot = root;
        ResidualDegreesOfFreedom = residualDegreesOfFreedom;
        whitened = new Lazy<double[]>(Whiten);
    }

    /// <summary>Design, n by p.</summary>
    internal DesignMatrix Design { get; }

    /// <summary>Working weights, length n, zero or more; empty means ones.</summary>
    internal double[] Weights { get; }

    /// <summary>Score residuals r, length n, with X'r = 0 at the estimate.</summary>
    internal double[] ScoreResiduals { get; }

    /// <summary>The estimates, length p.</summary>
    internal double[] Values { get; }

    /// <summary>N with N N' = (X'WX)^-1, p by p, row by row.</summary>
    internal double[] BreadRoot { get; }

    /// <summary>n - k for linear regression, infinite where the reference is the normal.</summary>
    internal double ResidualDegreesOfFreedom { get; }

    /// <summary>Y = W^(1/2) X N, column after column, n by p; made when first asked for and kept.</summary>
    internal ReadOnlySpan<double> Whitened => whitened.Value;

    /// <summary>
    /// Variance of the response in each row up to the dispersion, V(mu)/a, length n; empty means 1/w. Only CR2 asks.
    /// </summary>
    internal double[] ResponseVariances { get; }

    internal bool IsUsed(int row) => Weights.Length == 0 || Weights[row] > 0;

    internal double Weight(int row) => Weights.Length == 0 ? 1 : Weights[row];

    /// <summary>Inverse variance of the response in a row: the scale on which CR2 takes its square root.</summary>
    internal double InverseVariance(int row) => ResponseVariances.Length == 0 ? Weight(row) : 1 / ResponseVariances[row];

    /// <summary>Rows of positive weight.</summary>
    internal int RowsUsed
    {
        get
        {
            if (Weights.Length == 0)
                return Design.Rows;
            int used = 0;
            foreach (double w in Weights)
                used += w > 0 ? 1 : 0;
            return used;
        }
    }

    /// <summary>From the bread (X'WX)^-1 itself, undispersed; its Cholesky factor serves as root.</summary>
    /// <param name="design">Design, n by p.</param>
    /// <param name="weights">Working weights, length n; empty means ones.</param>
    /// <param name="scoreResiduals">Score residuals, length n.</param>
    /// <param name="values">Estimates, length p.</param>
    /// <param name="bread">(X'WX)^-1, p by p.</param>
    /// <param name="residualDegreesOfFreedom">n - k for a t reference, infinite for the normal.</param>
    /// <param name="responseVariances">V(mu)/a of a generalised linear model, length n; null for linear regression (1/w).</param>
    internal static WorkingLeastSquares FromBread(
        DesignMatrix design,
        double[] weights,
        double[] scoreResiduals,
        double[] values,
        SymmetricMatrix bread,
        double residualDegreesOfFreedom = double.PositiveInfinity,
        double[]? responseVariances = null)
        => new(
            design,
            weights,
            scoreResiduals,
            values,
            SmallCholesky.Factor(bread.Values, bread.Size, bread.Names).LowerFactor(),
            residualDegreesOfFreedom,
            responseVariances ?? []);

    /// <summary>As <see cref="FromBread"/>, from a root N of the bread with N N' = (X'WX)^-1.</summary>
    internal static WorkingLeastSquares FromRoot(
        DesignMatrix design,
        double[] weights,
        double[] scoreResiduals,
        double[] values,
        double[] breadRoot,
        double residualDegreesOfFreedom)
        => new(design, weights, scoreResiduals, values, breadRoot, residualDegreesOfFreedom, []);

    /// <summary>Leverage of each row: the diagonal of W^(1/2) X (X'WX)^-1 X' W^(1/2), between 0 and 1; their sum is p.</summary>
    internal double[] Leverage()
    {
        int n = Design.Rows;
        double[] leverage = new double[n];
        for (int k = 0; k < Design.Columns; k++)
        {
            ReadOnlySpan<double> column = Whitened.Slice(k * n, n);
            for (int i = 0; i < n; i++)
                leverage[i] += column[i] * column[i];
        }
        return leverage;
    }

    /// <summary>Residuals on the whitened scale, r / sqrt(w), length n; zero in rows of weight zero.</summary>
    internal double[] WhitenedResiduals()
    {
        if (Weights.Length == 0)
            return ScoreResiduals;
        double[] residuals = new double[Weights.Length];
        for (int i = 0; i < residuals.Length; i++)
            residuals[i] = Weights[i] > 0 ? ScoreResiduals[i] / Math.Sqrt(Weights[i]) : 0;
        return residuals;
    }

    /// <summary>N S N' for a symmetric S of the whitened scale: a covariance of the coefficients.</summary>
    internal SymmetricMatrix FromWhitened(ReadOnlySpan<double> inner, double factor = 1)
    {
        int p = Design.Columns;
        double[] half = SmallMatrix.Product(BreadRoot, inner, p, p, p);
        double[] full = new double[p * p];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                full[(i * p) + j] = factor * CrossProduct.Dot(half.AsSpan(i * p, p), BreadRoot.AsSpan(j * p, p));
        }
        return new SymmetricMatrix(Design.Names, full);
    }

    /// <summary>N'c for a contrast c of the coefficients, into p values.</summary>
    internal void WhitenContrast(ReadOnlySpan<double> contrast, Span<double> result)
    {
        int p = Design.Columns;
        result.Clear();
        for (int i = 0; i < p; i++)
            CrossProduct.AddScaled(BreadRoot.AsSpan(i * p, p), contrast[i], result[..p]);
    }

    private double[] Whiten()
    {
        int n = Design.Rows;
        int p = Design.Columns;
        double[] y = new double[n * p];
        for (int k = 0; k < p; k++)
        {
            Span<double> column = y.AsSpan(k * n, n);
            for (int j = 0; j < p; j++)
            {
                double factor = BreadRoot[(j * p) + k];
                if (factor != 0)
                    CrossProduct.AddScaled(Design.Column(j), factor, column);
            }
            for (int i = 0; i < Weights.Length; i++)
                column[i] *= Math.Sqrt(Weights[i]);
        }
        return y;
    }
}
