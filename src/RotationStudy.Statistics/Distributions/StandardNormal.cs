using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace RotationStudy.Statistics.Distributions;

/// <summary>The standard normal distribution.</summary>
/// <remarks>Tails are accurate to 1e-13 relative as far as a double reaches (38 standard deviations). <b>Checked against</b> Distributions/tails.</remarks>
public static class StandardNormal
{
    /// <summary>Density at z.</summary>
    public static double Density(double z) => Math.Exp(-0.5 * z * z) / Math.Sqrt(2 * Math.PI);

    /// <summary>Log density at z.</summary>
    public static double LogDensity(double z) => (-0.5 * z * z) - (0.5 * Math.Log(2 * Math.PI));

    /// <summary>Probability of a value at or below z.</summary>
    public static double LowerTail(double z) => 0.5 * SpecialFunctions.Erfc(-z / Constants.Sqrt2);

    /// <summary>Probability of a value above z, accurate far out, where one minus the lower tail is zero.</summary>
    public static double UpperTail(double z) => LowerTail(-z);

    /// <summary>Two-sided p value of a statistic z.</summary>
    public static double TwoSidedPValue(double z) => Math.Min(1, 2 * LowerTail(-Math.Abs(z)));

    /// <summary>The value below which a share p of the distribution lies; infinite for 0 and 1.</summary>
    public static double Quantile(double p) => Normal.InvCDF(0, 1, p);

    /// <summary>The value above which a share q of the distribution lies.</summary>
    public static double UpperQuantile(double q) => -Quantile(q);
}
