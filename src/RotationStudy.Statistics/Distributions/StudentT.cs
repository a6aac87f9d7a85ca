using MathNet.Numerics;

namespace RotationStudy.Statistics.Distributions;

/// <summary>Student's t distribution; infinite degrees of freedom mean the standard normal.</summary>
public static class StudentT
{
    /// <summary>Two-sided p value of a statistic t: I(v/2, 1/2; v/(v+t^2)).</summary>
    public static double TwoSidedPValue(double t, double degreesOfFreedom)
    {
        if (double.IsNaN(t) || double.IsNaN(degreesOfFreedom))
            return double.NaN;
        if (double.IsPositiveInfinity(degreesOfFreedom))
            return StandardNormal.TwoSidedPValue(t);
        if (double.IsInfinity(t))
            return 0;
        return SpecialFunctions.BetaRegularized(degreesOfFreedom / 2, 0.5, degreesOfFreedom / (degreesOfFreedom + (t * t)));
    }

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double degreesOfFreedom)
        => double.IsPositiveInfinity(degreesOfFreedom)
            ? StandardNormal.Quantile(p)
            : MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, degreesOfFreedom, p);
}
