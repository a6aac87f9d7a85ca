namespace RotationStudy.Statistics.Distributions;

/// <summary>Student's t distribution; infinite degrees of freedom mean the standard normal.</summary>
/// <remarks>
/// T squared over v is the odds of a beta variable with parameters 1/2 and v/2, from which tails and quantiles come.
/// Degrees of freedom need not be whole. <b>Checked against</b> Distributions/tails.
/// </remarks>
public static class StudentT
{
    // Beyond this value the square overflows soon; the tail is a pure power law there.
    private const double PowerLawFrom = 1e140;

    /// <summary>Log density at t.</summary>
    public static double LogDensity(double t, double degreesOfFreedom)
    {
        Domain.Positive(degreesOfFreedom, "degrees of freedom");
        if (double.IsPositiveInfinity(degreesOfFreedom))
            return StandardNormal.LogDensity(t);
        double half = degreesOfFreedom / 2;
        double halfOfNext = half + 0.5;
        double constant = StableMath.StirlingError(halfOfNext) - StableMath.StirlingError(half)
            + (half * StableMath.Log1p(0.5 / half)) - 0.5 - (0.5 * Math.Log(2 * Math.PI));
        return constant - (halfOfNext * StableMath.Log1p(t * t / degreesOfFreedom));
    }

    /// <summary>Probability of a value at or below t.</summary>
    public static double LowerTail(double t, double degreesOfFreedom)
        => t <= 0 ? 0.5 * TwoSidedPValue(t, degreesOfFreedom) : 1 - (0.5 * TwoSidedPValue(t, degreesOfFreedom));

    /// <summary>Probability of a value above t.</summary>
    public static double UpperTail(double t, double degreesOfFreedom) => LowerTail(-t, degreesOfFreedom);

    /// <summary>Two-sided p value of a statistic t: I(v/2, 1/2; v/(v+t^2)). NaN in, NaN out.</summary>
    public static double TwoSidedPValue(double t, double degreesOfFreedom)
    {
        if (double.IsNaN(t) || double.IsNaN(degreesOfFreedom))
            return double.NaN;
        Domain.Positive(degreesOfFreedom, "degrees of freedom");
        if (double.IsPositiveInfinity(degreesOfFreedom))
            return StandardNormal.TwoSidedPValue(t);
        if (double.IsInfinity(t))
            return 0;
        double size = Math.Abs(t);
        if (size > PowerLawFrom)
            return TwoSidedPValue(PowerLawFrom, degreesOfFreedom) * Math.Pow(size / PowerLawFrom, -degreesOfFreedom);
        double odds = t * t / degreesOfFreedom;
        return Math.Exp(IncompleteBeta.LogUpper(0.5, degreesOfFreedom / 2, odds / (1 + odds), 1 / (1 + odds)));
    }

    /// <summary>The value below which a share p of the distribution lies; infinite for 0 and 1.</summary>
    public static double Quantile(double p, double degreesOfFreedom)
    {
        if (double.IsNaN(p) || double.IsNaN(degreesOfFreedom))
            return double.NaN;
        Domain.Positive(degreesOfFreedom, "degrees of freedom");
        Domain.Share(p);
        if (double.IsPositiveInfinity(degreesOfFreedom))
            return StandardNormal.Quantile(p);
        if (p == 0.5)
            return 0;
        double size = UpperHalfQuantile(Math.Min(p, 1 - p), Math.Abs(p - 0.5), degreesOfFreedom);
        return p < 0.5 ? -size : size;
    }

    /// <summary>The value above which a share q of the distribution lies.</summary>
    public static double UpperQuantile(double q, double degreesOfFreedom) => -Quantile(q, degreesOfFreedom);

    private static double UpperHalfQuantile(double tail, double fromCentre, double v)
    {
        double start = StartingLogit(tail, v);
        double logit = tail <= 0.25
            ? IncompleteBeta.LogitUpperQuantile(2 * tail, 0.5, v / 2, start)
            : IncompleteBeta.LogitQuantile(2 * fromCentre, 0.5, v / 2, start);
        return Math.Sqrt(v) * Math.Exp(0.5 * logit);
    }

    /// <summary>The first terms of Fisher's expansion about the normal quantile (Abramowitz and Stegun 26.7.5), where v is large enough for it.</summary>
    private static double StartingLogit(double tail, double v)
    {
        double z = StandardNormal.UpperQuantile(tail);
        if (z * z > v || z < 0.01)
            return double.NaN;
        double z2 = z * z;
        double t = z * (1 + ((z2 + 1) / (4 * v)) + (((((5 * z2) + 16) * z2) + 3) / (96 * v * v)));
        return 2 * Math.Log(t / Math.Sqrt(v));
    }
}
