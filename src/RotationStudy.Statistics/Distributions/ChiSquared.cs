using MathNet.Numerics;

namespace RotationStudy.Statistics.Distributions;

/// <summary>The chi-square distribution.</summary>
public static class ChiSquared
{
    /// <summary>Probability of a value above x: Q(k/2, x/2).</summary>
    public static double UpperTail(double x, double degreesOfFreedom)
        => x <= 0 ? 1 : SpecialFunctions.GammaUpperRegularized(degreesOfFreedom / 2, x / 2);

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double degreesOfFreedom)
        => MathNet.Numerics.Distributions.ChiSquared.InvCDF(degreesOfFreedom, p);
}
