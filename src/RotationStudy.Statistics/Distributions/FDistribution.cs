using MathNet.Numerics;

namespace RotationStudy.Statistics.Distributions;

/// <summary>The F distribution; infinite denominator degrees of freedom mean chi-square over its degrees of freedom.</summary>
public static class FDistribution
{
    /// <summary>Probability of a value above f: I(b/2, a/2; b/(b+af)).</summary>
    public static double UpperTail(double f, double numerator, double denominator)
    {
        if (f <= 0)
            return 1;
        if (double.IsPositiveInfinity(denominator))
            return ChiSquared.UpperTail(f * numerator, numerator);
        return SpecialFunctions.BetaRegularized(denominator / 2, numerator / 2, denominator / (denominator + (numerator * f)));
    }

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double numerator, double denominator)
        => double.IsPositiveInfinity(denominator)
            ? ChiSquared.Quantile(p, numerator) / numerator
            : MathNet.Numerics.Distributions.FisherSnedecor.InvCDF(numerator, denominator, p);
}
