using MathNet.Numerics.LinearAlgebra.Double;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace RotationStudy.Statistics.Mixed;

/// <summary>How well the variance parameters are known, and what that means for the variance of a contrast of fixed effects.</summary>
/// <remarks>
/// The parameters are theta and log s2; their asymptotic covariance is twice the inverse Hessian of the deviance. The
/// variance of a contrast c is v = s2 c'(X'V^-1X)^-1 c; Satterthwaite's degrees of freedom are 2 v2 / (g'Ag), g the gradient
/// of v and A the parameters' covariance. The result does not depend on how the variances are parametrised. Directions in
/// which the deviance is flat (a variance on the boundary) carry no gradient and are left out.
/// </remarks>
internal sealed class VarianceInformation
{
    private const double FlatShare = 1e-6;

    private readonly ProfiledDeviance deviance;
    private readonly ProfiledDeviance.Point at;
    private readonly ProfiledDeviance.Slopes slopes;
    private readonly double[] inverseHessian;

    internal VarianceInformation(ProfiledDeviance deviance, ProfiledDeviance.Point at, ProfiledDeviance.Slopes slopes, double[] profiledHessian)
    {
        this.deviance = deviance;
        this.at = at;
        this.slopes = slopes;
        Variance = at.Residual / deviance.Freedom;
        inverseHessian = InvertScaled(JointHessian(profiledHessian), at.Theta.Length + 1);
    }

    /// <summary>Residual variance s2.</summary>
    internal double Variance { get; }

    /// <summary>Covariance of two contrasts of the original fixed columns.</summary>
    internal double ContrastCovariance(ReadOnlySpan<double> first, ReadOnlySpan<double> second)
    {
        double[] c = deviance.Basis.ContrastInBasis(first);
        double[] w = InformationTimes(deviance.Basis.ContrastInBasis(second));
        double v = 0;
        for (int i = 0; i < c.Length; i++)
            v += c[i] * w[i];
        return Variance * v;
    }

    /// <summary>Satterthwaite's degrees of freedom of a contrast of the original fixed columns.</summary>
    internal double DegreesOfFreedom(ReadOnlySpan<double> weights)
    {
        int m = at.Theta.Length;
        int p = deviance.Basis.Columns;
        double[] w = InformationTimes(deviance.Basis.ContrastInBasis(weights));
        double[] gradient = new double[m + 1];
        for (int k = 0; k < m; k++)
        {
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < p; j++)
                    gradient[k] -= Variance * w[i] * slopes.Schur[k][(i * (p + 1)) + j] * w[j];
            }
        }
        double v = gradient[m] = ContrastCovariance(weights, weights);
        double spread = 0;
        for (int i = 0; i <= m; i++)
        {
            for (int j = 0; j <= m; j++)
                spread += gradient[i] * inverseHessian[(i * (m + 1)) + j] * gradient[j];
        }
        return spread > 0 ? v * v / spread : double.PositiveInfinity;
    }

    private double[] InformationTimes(double[] c)
    {
        double[] w = new double[c.Length];
        for (int i = 0; i < c.Length; i++)
        {
            for (int j = 0; j < c.Length; j++)
                w[i] += at.InverseInformation[(i * c.Length) + j] * c[j];
        }
        return w;
    }

    // The Hessian by (theta, log s2), from that of the profiled deviance: profiling took out the square of the cross term.
    private double[] JointHessian(double[] profiled)
    {
        int m = at.Theta.Length;
        double[] joint = new double[(m + 1) * (m + 1)];
        for (int i = 0; i < m; i++)
        {
            double cross = -slopes.Residual[i] / Variance;
            for (int j = 0; j < m; j++)
                joint[(i * (m + 1)) + j] = profiled[(i * m) + j] + (cross * -slopes.Residual[j] / Variance / deviance.Freedom);
            joint[(i * (m + 1)) + m] = joint[(m * (m + 1)) + i] = cross;
        }
        joint[^1] = deviance.Freedom;
        return joint;
    }

    /// <summary>The inverse of a symmetric matrix, scaled to a unit diagonal, without the directions in which it is flat.</summary>
    internal static double[] InvertScaled(double[] matrix, int n)
    {
        double[] scale = new double[n];
        for (int i = 0; i < n; i++)
            scale[i] = matrix[(i * n) + i] > 0 ? Math.Sqrt(matrix[(i * n) + i]) : 1;
        Evd<double> eigen = DenseMatrix.Create(n, n, (i, j) => matrix[(i * n) + j] / scale[i] / scale[j])
            .Evd(MathNet.Numerics.LinearAlgebra.Symmetricity.Symmetric);
        double[] inverse = new double[n * n];
        for (int k = 0; k < n; k++)
        {
            double value = eigen.EigenValues[k].Real;
            for (int i = 0; value > FlatShare && i < n; i++)
            {
                for (int j = 0; j < n; j++)
                    inverse[(i * n) + j] += eigen.EigenVectors[i, k] * eigen.EigenVectors[j, k] / value / scale[i] / scale[j];
            }
        }
        return inverse;
    }
}
