namespace RotationStudy.Statistics.Distributions;

/// <summary>The chi-square distribution; degrees of freedom need not be whole.</summary>
/// <remarks>A gamma variable of shape k/2, doubled. <b>Checked against</b> Distributions/tails.</remarks>
public static class ChiSquared
{
    /// <summary>Log density at x, minus infinity below zero.</summary>
    public static double LogDensity(double x, double degreesOfFreedom) => Gamma.LogDensity(x, degreesOfFreedom / 2, 2);

    /// <summary>Probability of a value at or below x: P(k/2, x/2).</summary>
    public static double LowerTail(double x, double degreesOfFreedom) => Gamma.LowerTail(x, degreesOfFreedom / 2, 2);

    /// <summary>Probability of a value above x: Q(k/2, x/2).</summary>
    public static double UpperTail(double x, double degreesOfFreedom) => Gamma.UpperTail(x, degreesOfFreedom / 2, 2);

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double degreesOfFreedom) => Gamma.Quantile(p, degreesOfFreedom / 2, 2);

    /// <summary>The value above which a share q of the distribution lies.</summary>
    public static double UpperQuantile(double q, double degreesOfFreedom) => Gamma.UpperQuantile(q, degreesOfFreedom / 2, 2);
}
