using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Imputation;

/// <summary>A draw from a multivariate normal distribution given by the Cholesky factor of its precision.</summary>
internal static class PosteriorDraw
{
    /// <summary>mean + scale L^-T z, z standard normal: covariance scale^2 (L L')^-1. L row by row, p by p.</summary>
    internal static double[] Normal(ReadOnlySpan<double> mean, double scale, ReadOnlySpan<double> lower, RandomStream random)
    {
        int p = mean.Length;
        double[] z = new double[p];
        for (int i = 0; i < p; i++)
            z[i] = random.Normal();
        for (int i = p - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < p; k++)
                z[i] -= lower[(k * p) + i] * z[k];
            z[i] /= lower[(i * p) + i];
        }
        for (int i = 0; i < p; i++)
            z[i] = mean[i] + (scale * z[i]);
        return z;
    }
}
