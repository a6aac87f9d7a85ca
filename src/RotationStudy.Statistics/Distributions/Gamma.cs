namespace RotationStudy.Statistics.Distributions;

/// <summary>The gamma distribution with a shape and a scale: mean shape times scale.</summary>
/// <remarks><b>Checked against</b> Distributions/tails.</remarks>
public static class Gamma
{
    /// <summary>Log density at x, minus infinity below zero.</summary>
    public static double LogDensity(double x, double shape, double scale = 1)
    {
        Check(shape, scale);
        if (double.IsNaN(x))
            return double.NaN;
        if (x > 0)
            return IncompleteGamma.LogKernel(shape, x / scale) - Math.Log(x);
        return x < 0 || shape > 1 ? double.NegativeInfinity : shape < 1 ? double.PositiveInfinity : -Math.Log(scale);
    }

    /// <summary>Probability of a value at or below x.</summary>
    public static double LowerTail(double x, double shape, double scale = 1)
    {
        Check(shape, scale);
        return double.IsNaN(x) ? double.NaN : Math.Exp(IncompleteGamma.LogLower(shape, x / scale));
    }

    /// <summary>Probability of a value above x.</summary>
    public static double UpperTail(double x, double shape, double scale = 1)
    {
        Check(shape, scale);
        return double.IsNaN(x) ? double.NaN : Math.Exp(IncompleteGamma.LogUpper(shape, x / scale));
    }

    /// <summary>The value below which a share p of the distribution lies.</summary>
    public static double Quantile(double p, double shape, double scale = 1)
    {
        Check(shape, scale);
        Domain.Share(p);
        return scale * IncompleteGamma.Quantile(p, shape);
    }

    /// <summary>The value above which a share q of the distribution lies.</summary>
    public static double UpperQuantile(double q, double shape, double scale = 1)
    {
        Check(shape, scale);
        Domain.Share(q);
        return scale * IncompleteGamma.UpperQuantile(q, shape);
    }

    private static void Check(double shape, double scale)
    {
        Domain.PositiveFinite(shape, "shape");
        Domain.PositiveFinite(scale, "scale");
    }
}
