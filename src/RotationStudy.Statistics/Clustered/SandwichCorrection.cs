using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace RotationStudy.Statistics.Clustered;

/// <summary>How the sandwich variance allows for residuals that are too small because the fit follows them.</summary>
public enum SandwichCorrection
{
    /// <summary>Mancl &amp; DeRouen under 1,000 clusters, none from 1,000 on.</summary>
    Automatic,

    /// <summary>The plain sandwich of Liang &amp; Zeger (1986): too small with few clusters.</summary>
    None,

    /// <summary>Mancl &amp; DeRouen (2001): residuals times (I - H)^-1; errs to the large side.</summary>
    ManclDeRouen,

    /// <summary>Kauermann &amp; Carroll (2001): residuals times (I - H)^-1/2.</summary>
    KauermannCarroll,

    /// <summary>Fay &amp; Graubard (2001): scores scaled by (1 - min(0.75, leverage))^-1/2, coefficient by coefficient.</summary>
    FayGraubard,
}

/// <summary>The middle of the sandwich from each cluster's score and information: p by p work per cluster, whatever its size.</summary>
/// <remarks>
/// With B the inverse of the total information and G a cluster's own, (I - H)^-1 acts on the cluster's score u as
/// (I - G B)^-1. With B = K K', I - G B is similar to the symmetric I - K'GK, so any power is taken from its eigenvalues.
/// An eigenvalue of one belongs to a coefficient that one cluster determines alone: its score is zero, and it is left out.
/// </remarks>
internal sealed class SandwichMiddle(SandwichCorrection correction, double[] information, double[] inverse, int size)
{
    private const double FayGraubardBound = 0.75;

    private readonly Matrix<double> root = DenseMatrix.Create(size, size, (i, j) => information[(i * size) + j]).Cholesky().Factor.Inverse().Transpose();
    private readonly double[] middle = new double[size * size];
    private readonly double[] adjusted = new double[size];

    internal ReadOnlySpan<double> Value => middle;

    /// <summary>Adds one cluster: its score, and its information (p by p).</summary>
    internal void Add(ReadOnlySpan<double> score, ReadOnlySpan<double> own)
    {
        switch (correction)
        {
            case SandwichCorrection.None:
                score.CopyTo(adjusted);
                break;
            case SandwichCorrection.FayGraubard:
                for (int j = 0; j < size; j++)
                {
                    double leverage = 0;
                    for (int k = 0; k < size; k++)
                        leverage += own[(j * size) + k] * inverse[(k * size) + j];
                    adjusted[j] = score[j] / Math.Sqrt(1 - Math.Min(FayGraubardBound, leverage));
                }
                break;
            default:
                Power(score, own, correction == SandwichCorrection.ManclDeRouen ? -1 : -0.5);
                break;
        }
        for (int i = 0; i < size; i++)
        {
            for (int j = 0; j < size; j++)
                middle[(i * size) + j] += adjusted[i] * adjusted[j];
        }
    }

    // u -> K^-T (I - K'GK)^power K' u.
    private void Power(ReadOnlySpan<double> score, ReadOnlySpan<double> own, double power)
    {
        double[] g = own.ToArray();
        Matrix<double> similar = root.TransposeThisAndMultiply(DenseMatrix.Create(size, size, (i, j) => g[(i * size) + j])).Multiply(root);
        Evd<double> eigen = similar.Evd(Symmetricity.Symmetric);
        Vector<double> turned = eigen.EigenVectors.TransposeThisAndMultiply(root.TransposeThisAndMultiply(DenseVector.OfArray(score.ToArray())));
        for (int k = 0; k < size; k++)
        {
            double left = 1 - eigen.EigenValues[k].Real;
            turned[k] *= left > 1e-10 ? Math.Pow(left, power) : 0;
        }
        Vector<double> back = root.Transpose().Solve(eigen.EigenVectors * turned);
        for (int i = 0; i < size; i++)
            adjusted[i] = back[i];
    }
}
