using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;
using RotationStudy.Statistics.Clustered;

namespace RotationStudy.Statistics.Tests.Clustered;

/// <summary>The corrected sandwich of a logistic marginal model as its papers write it, with k by k matrices per cluster.</summary>
internal static class FullMatrices
{
    internal static Matrix<double> Covariance(DesignMatrix x, double[] y, Clusters clusters, GeneralizedEstimatingEquationsFit fit, SandwichCorrection correction)
    {
        int p = x.Columns;
        Matrix<double> information = new DenseMatrix(p, p);
        for (int c = 0; c < clusters.Count; c++)
        {
            (Matrix<double> d, Matrix<double> inverse, Vector<double> _) = Parts(x, y, clusters.Members(c).ToArray(), fit);
            information += d.Transpose() * inverse * d;
        }
        Matrix<double> b = information.Inverse();
        Matrix<double> middle = new DenseMatrix(p, p);
        for (int c = 0; c < clusters.Count; c++)
        {
            (Matrix<double> d, Matrix<double> inverse, Vector<double> r) = Parts(x, y, clusters.Members(c).ToArray(), fit);
            Vector<double> score = d.Transpose() * (inverse * (Residual(d * b * d.Transpose() * inverse, correction) * r));
            if (correction == SandwichCorrection.FayGraubard)
                score = DenseVector.Create(p, j => score[j] / Math.Sqrt(1 - Math.Min(0.75, (d.Transpose() * inverse * d * b)[j, j])));
            middle += score.OuterProduct(score);
        }
        return b * middle * b;
    }

    // (I - H)^-1, its square root by eigenvalues of the asymmetric matrix, or I.
    private static Matrix<double> Residual(Matrix<double> h, SandwichCorrection correction)
    {
        Matrix<double> left = DenseMatrix.CreateIdentity(h.RowCount) - h;
        if (correction == SandwichCorrection.ManclDeRouen)
            return left.Inverse();
        if (correction != SandwichCorrection.KauermannCarroll)
            return DenseMatrix.CreateIdentity(h.RowCount);
        // Denman and Beavers' iteration: y to the root, z to the inverse root.
        Matrix<double> root = left;
        Matrix<double> inverseRoot = DenseMatrix.CreateIdentity(h.RowCount);
        for (int iteration = 0; iteration < 30; iteration++)
            (root, inverseRoot) = (0.5 * (root + inverseRoot.Inverse()), 0.5 * (inverseRoot + root.Inverse()));
        return inverseRoot;
    }

    private static (Matrix<double> D, Matrix<double> InverseVariance, Vector<double> Residual) Parts(DesignMatrix x, double[] y, int[] rows, GeneralizedEstimatingEquationsFit fit)
    {
        int k = rows.Length;
        double[] variance = [.. rows.Select(i => fit.Fitted[i] * (1 - fit.Fitted[i]))];
        bool exchangeable = fit.Options.Correlation == WorkingCorrelation.Exchangeable;
        Matrix<double> v = DenseMatrix.Create(k, k, (a, b) => Math.Sqrt(variance[a] * variance[b]) * (a == b ? 1 : exchangeable ? fit.Correlation : Math.Pow(fit.Correlation, Math.Abs(a - b))));
        return (DenseMatrix.Create(k, x.Columns, (a, j) => variance[a] * x[rows[a], j]), v.Inverse(), DenseVector.Create(k, a => y[rows[a]] - fit.Fitted[rows[a]]));
    }
}
