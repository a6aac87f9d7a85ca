namespace RotationStudy.Statistics.Distributions;

/// <summary>The F distribution; infinite denominator degrees of freedom mean chi-square over its degrees of freedom.</summary>
/// <remarks>
/// a f / b is the odds of a beta variable with parameters a/2 and b/2, a and b being the degrees of freedom, which need
/// not be whole. <b>Checked against</b> Distributions/tails.
/// </remarks>
public static class FDistribution
{
    /// <summary>Log density at f, minus infinity at and below zero.</summary>
    public static double LogDensity(double f, double numerator, double denominator)
    {
        Check(numerator, denominator);
        if (double.IsNaN(f))
            return double.NaN;
        if (f <= 0)
            return double.NegativeInfinity;
        if (double.IsPositiveInfinity(denominator))
            return ChiSquared.LogDensity(f * numerator, numerator) + Math.Log(numerator);
        double odds = Odds(f, numerator, denominator);
        return IncompleteBeta.LogKernel(numerator / 2, denominator / 2, odds / (1 + odds), 1 / (1 + odds)) - Math.Log(f);
    }

    /// <summary>Probability of a value at or below f.</summary>
    public static double LowerTail(double f, double numerator, double denominator)
    {
        Check(numerator, denominator);
        if (double.IsNaN(f))
            return double.NaN;
        if (f <= 0)
            return 0;
        if (double.IsPositiveInfinity(denominator))
            return ChiSquared.LowerTail(f * numerator, numerator);
        double odds = Odds(f, numerator, denominator);
        return Math.Exp(IncompleteBeta.LogLower(numerator / 2, denominator / 2, odds / (1 + odds), 1 / (1 + odds)));
    }

    /// <summary>Probability of a value above f: I(b/2, a/2; b/(b+af)).</summary>
    public static double UpperTail(double f, double numerator, double denominator)
    {
        Check(numerator, denominator);
        if (double.IsNaN(f))
            return double.NaN;
        if (f <= 0)
            return 1;
        if (double.IsPositiveInfinity(denominator))
            return ChiSquared.UpperTail(f * numerator, numerator);
        double odds = Odds(f, numerator, denominator);
        return Math.Exp(IncompleteBeta.LogUpper(numerator / 2, denominator / 2, odds / (1 + odds), 1 / (1 + odds)));
    }

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double numerator, double denominator)
    {
        Check(numerator, denominator);
        Domain.Share(p);
        return double.IsPositiveInfinity(denominator)
            ? ChiSquared.Quantile(p, numerator) / numerator
            : denominator / numerator * Math.Exp(IncompleteBeta.LogitQuantile(p, numerator / 2, denominator / 2));
    }

    /// <summary>The value above which a share q of the distribution lies.</summary>
    public static double UpperQuantile(double q, double numerator, double denominator)
    {
        Check(numerator, denominator);
        Domain.Share(q);
        return double.IsPositiveInfinity(denominator)
            ? ChiSquared.UpperQuantile(q, numerator) / numerator
            : denominator / numerator * Math.Exp(IncompleteBeta.LogitUpperQuantile(q, numerator / 2, denominator / 2));
    }

    private static double Odds(double f, double numerator, double denominator)
        => Math.Min(f * (numerator / denominator), double.MaxValue);

    private static void Check(double numerator, double denominator)
    {
        Domain.PositiveFinite(numerator, "numerator degrees of freedom");
        Domain.Positive(denominator, "denominator degrees of freedom");
    }
}
