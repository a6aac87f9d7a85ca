using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>Minus twice the log-likelihood (full or restricted) of a linear mixed model as a function of theta, with its gradient.</summary>
/// <remarks>
/// Fixed effects and residual variance are profiled out (Bates et al. 2015, eqs. 34 and 41, here through the Schur
/// complement S = [X y]'V^-1[X y]): r2 = S_yy - S_yX S_XX^-1 S_Xy, d = log|Omega| + m (1 + log(2 pi r2 / m)), m = n for
/// the full likelihood, and + log|S_XX| with m = n - p for the restricted one.
/// </remarks>
internal sealed class ProfiledDeviance
{
    private readonly BlockElimination elimination;
    private readonly OrthonormalBasis basis;
    private readonly double[] outcomeInBasis;
    private readonly int rows;
    private readonly string[] basisNames;

    internal ProfiledDeviance(DesignMatrix x, IReadOnlyList<double> outcome, IReadOnlyList<RandomTerm> terms, bool restricted)
    {
        Terms = terms;
        Restricted = restricted;
        rows = x.Rows;
        basis = OrthonormalBasis.Of(x);
        basisNames = [.. x.Names];
        double[] y = [.. outcome];
        double total = CrossProduct.Dot(y, y);
        outcomeInBasis = basis.Residualize(y);
        if (!(CrossProduct.Dot(y, y) > 1e-22 * total))
            throw new TooFewDataError("the outcome is an exact combination of the columns, so there is no residual variance", "Check that the outcome, or a transformation of it, is not among the columns.");
        Covariance = new RelativeCovariance(terms);
        elimination = new BlockElimination(new MixedCrossProducts(terms, TermHierarchy.Build(terms), Covariance, basis, y));
    }

    internal IReadOnlyList<RandomTerm> Terms { get; }

    internal bool Restricted { get; }

    internal RelativeCovariance Covariance { get; }

    internal OrthonormalBasis Basis => basis;

    internal MixedCrossProducts Products => elimination.Products;

    /// <summary>Rows less, for the restricted likelihood, the fixed columns.</summary>
    internal int Freedom => Restricted ? rows - basis.Columns : rows;

    /// <summary>Everything at one theta but the derivatives.</summary>
    internal Point At(ReadOnlySpan<double> theta)
    {
        elimination.Eliminate(Covariance.Factors(theta));
        int p = basis.Columns;
        int first = Products.CrossedColumns;
        int size = Products.DenseSize;
        double[] sxx = new double[p * p];
        double[] sxy = new double[p];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                sxx[(i * p) + j] = elimination.Dense[((first + i) * size) + first + j];
            sxy[i] = elimination.Dense[((first + i) * size) + first + p];
        }
        SmallCholesky factor = SmallCholesky.Factor(sxx, p, basisNames);
        double[] gamma = factor.Solve(sxy);
        double r2 = elimination.Dense[(size * size) - 1];
        for (int i = 0; i < p; i++)
            r2 -= gamma[i] * sxy[i];
        if (!(r2 > 0))
            throw new TooFewDataError("the random effects and the columns fit the outcome exactly, so there is no residual variance", "Use fewer random terms.");
        double logs = elimination.LogDeterminant + (Restricted ? factor.LogDeterminant + basis.LogDeterminant : 0);
        return new Point(theta.ToArray(), logs, r2, factor.Inverse(), gamma);
    }

    /// <summary>Minus twice the log-likelihood with the residual variance at its best value.</summary>
    internal double Profiled(Point at) => at.LogDeterminants + (Freedom * (1 + Math.Log(2 * Math.PI * at.Residual / Freedom)));

    /// <summary>Minus twice the log-likelihood at a given residual variance.</summary>
    internal double AtVariance(Point at, double variance)
        => at.LogDeterminants + (Freedom * Math.Log(2 * Math.PI * variance)) + (at.Residual / variance);

    /// <summary>Derivatives at a point; it must be the last one that was evaluated.</summary>
    internal Slopes Differentiate(Point at)
    {
        DescentSums sums = new BlockInverse(elimination, Terms.Count, keep: false).Total;
        int p = basis.Columns;
        double[] logs = new double[at.Theta.Length];
        double[] residual = new double[at.Theta.Length];
        double[][] schur = new double[at.Theta.Length][];
        for (int m = 0; m < logs.Length; m++)
        {
            (int term, int row, int column) = Covariance.Cell(m);
            logs[m] = 2 * sums.Trace[term][(column * Terms[term].Size) + row];
            schur[m] = SchurSlope(sums.Score[term], row, column, Terms[term].Size, p + 1);
            for (int i = 0; i <= p; i++)
            {
                double vi = i == p ? 1 : -at.FixedInBasis[i];
                for (int j = 0; j <= p; j++)
                {
                    double slope = schur[m][(i * (p + 1)) + j];
                    residual[m] += vi * slope * (j == p ? 1 : -at.FixedInBasis[j]);
                    if (Restricted && i < p && j < p)
                        logs[m] += slope * at.InverseInformation[(i * p) + j];
                }
            }
        }
        return new Slopes(logs, residual, schur);
    }

    /// <summary>The value and gradient that the optimiser sees.</summary>
    internal double ProfiledWithGradient(ReadOnlySpan<double> theta, Span<double> gradient)
    {
        Point at = At(theta);
        Slopes slopes = Differentiate(at);
        for (int m = 0; m < gradient.Length; m++)
            gradient[m] = slopes.LogDeterminants[m] + (Freedom * slopes.Residual[m] / at.Residual);
        return Profiled(at);
    }

    /// <summary>The profiled deviance as a function of some parameters, the others being zero.</summary>
    internal SmoothMinimizer.Objective Among(int[] free)
    {
        double[] full = new double[Covariance.Count];
        double[] slope = new double[full.Length];
        return (theta, gradient) =>
        {
            for (int k = 0; k < free.Length; k++)
                full[free[k]] = theta[k];
            double value = ProfiledWithGradient(full, slope);
            for (int k = 0; k < free.Length; k++)
                gradient[k] = slope[free[k]];
            return value;
        };
    }

    /// <summary>The inverse of the random effects' system and their solutions at a theta, kept for predictions.</summary>
    internal BlockInverse Solutions(ReadOnlySpan<double> theta)
    {
        _ = At(theta);
        return new BlockInverse(elimination, Terms.Count, keep: true);
    }

    /// <summary>Fixed effects of the original columns.</summary>
    internal double[] FixedEffects(Point at)
    {
        double[] sum = new double[basis.Columns];
        for (int j = 0; j < sum.Length; j++)
            sum[j] = outcomeInBasis[j] + at.FixedInBasis[j];
        return basis.ToOriginal(sum);
    }

    // d S(j,k) / d L(a,b) = -(H[(a,j),(b,k)] + H[(a,k),(b,j)]).
    private static double[] SchurSlope(double[] score, int a, int b, int q, int fixedColumns)
    {
        double[] slope = new double[fixedColumns * fixedColumns];
        int width = q * fixedColumns;
        for (int j = 0; j < fixedColumns; j++)
        {
            for (int k = 0; k < fixedColumns; k++)
                slope[(j * fixedColumns) + k] = -(score[(((a * fixedColumns) + j) * width) + (b * fixedColumns) + k] + score[(((a * fixedColumns) + k) * width) + (b * fixedColumns) + j]);
        }
        return slope;
    }

    /// <summary>The model at one theta.</summary>
    /// <param name="Theta">The variance parameters.</param>
    /// <param name="LogDeterminants">log|Omega|, and + log|X'V^-1X| for the restricted likelihood.</param>
    /// <param name="Residual">r2, the penalised residual sum of squares.</param>
    /// <param name="InverseInformation">(Q'V^-1Q)^-1 in the orthonormal basis, p by p.</param>
    /// <param name="FixedInBasis">Fixed effects in the basis, for the outcome's residual from the columns.</param>
    internal sealed record Point(double[] Theta, double LogDeterminants, double Residual, double[] InverseInformation, double[] FixedInBasis);

    /// <summary>Derivatives by each parameter: of the log determinants, of r2, and of S ((p+1) by (p+1)).</summary>
    internal sealed record Slopes(double[] LogDeterminants, double[] Residual, double[][] Schur);
}
