namespace RotationStudy.Statistics.Distributions;

/// <summary>The beta distribution on 0 to 1, density proportional to x^(a-1) (1-x)^(b-1).</summary>
/// <remarks><b>Checked against</b> Distributions/tails.</remarks>
public static class Beta
{
    /// <summary>Log density at x strictly between 0 and 1; minus infinity outside.</summary>
    public static double LogDensity(double x, double a, double b)
    {
        Check(a, b);
        if (double.IsNaN(x))
            return double.NaN;
        return x is <= 0 or >= 1
            ? double.NegativeInfinity
            : IncompleteBeta.LogKernel(a, b, x, 1 - x) - Math.Log(x) - StableMath.Log1p(-x);
    }

    /// <summary>Probability of a value at or below x: I_x(a, b).</summary>
    public static double LowerTail(double x, double a, double b)
    {
        Check(a, b);
        return double.IsNaN(x) ? double.NaN : Math.Exp(IncompleteBeta.LogLower(a, b, x, 1 - x));
    }

    /// <summary>Probability of a value above x.</summary>
    public static double UpperTail(double x, double a, double b)
    {
        Check(a, b);
        return double.IsNaN(x) ? double.NaN : Math.Exp(IncompleteBeta.LogUpper(a, b, x, 1 - x));
    }

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double a, double b)
    {
        Check(a, b);
        Domain.Share(p);
        return FromLogit(IncompleteBeta.LogitQuantile(p, a, b));
    }

    /// <summary>The value above which a share q of the distribution lies.</summary>
    public static double UpperQuantile(double q, double a, double b)
    {
        Check(a, b);
        Domain.Share(q);
        return FromLogit(IncompleteBeta.LogitUpperQuantile(q, a, b));
    }

    private static double FromLogit(double u) => u < 0 ? Math.Exp(u) / (1 + Math.Exp(u)) : 1 / (1 + Math.Exp(-u));

    private static void Check(double a, double b)
    {
        Domain.PositiveFinite(a, "a");
        Domain.PositiveFinite(b, "b");
    }
}
