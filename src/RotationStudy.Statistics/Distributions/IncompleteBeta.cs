namespace RotationStudy.Statistics.Distributions;

/// <summary>The regularised incomplete beta function on the log scale, with its inverse: beta, F, t and binomial tails.</summary>
/// <remarks>
/// <para>I_x(a, b) = integral from 0 to x of t^(a-1) (1-t)^(b-1) dt / B(a, b). The tail that is smaller is computed and
/// the other taken from it, so both keep their digits. x and y = 1 - x are both given by the caller, who knows them
/// without cancellation.</para>
/// <para>Below <see cref="FractionLimit"/> the continued fraction (Lentz's algorithm) serves; above it, the tail is
/// integrated on the logit scale, where its log-density is concave for every a and b (<see cref="TailQuadrature"/>).
/// The leading factor follows Loader (2000), so parameters up to 1e9 cost no digits.</para>
/// <para>The inverse is Newton's method for log I as a function of logit x. That function is concave and increasing
/// because the density of logit x is log-concave, so the iteration rises to the root from the second step on
/// and needs no bracket.</para>
/// <para><b>Sources.</b> Abramowitz and Stegun 1964, 26.5.8; Lentz, Applied Optics 1976;15:668-671; Loader 2000.</para>
/// </remarks>
internal static class IncompleteBeta
{
    private const double FractionLimit = 3000;
    private const double LogTiny = -700;
    // Steps this small that no longer shrink are rounding of the tail, not distance to the root.
    private const double Noise = 1e-10;
    private const int MaximumSteps = 20000;
    private const int MaximumNewton = 400;

    /// <summary>log I_x(a, b), with y = 1 - x.</summary>
    internal static double LogLower(double a, double b, double x, double y)
    {
        if (x <= 0)
            return double.NegativeInfinity;
        if (y <= 0)
            return 0;
        double excess = (a * y) - (b * x);
        return excess >= 0
            ? Math.Min(0, LogSmallTail(a, b, x, y, excess))
            : StableMath.Log1mExp(LogSmallTail(b, a, y, x, -excess));
    }

    /// <summary>log(1 - I_x(a, b)), with y = 1 - x.</summary>
    internal static double LogUpper(double a, double b, double x, double y) => LogLower(b, a, y, x);

    /// <summary>The log density of logit x: log of x^a y^b / B(a, b).</summary>
    internal static double LogKernel(double a, double b, double x, double y)
    {
        double n = a + b;
        double excess = (a * y) - (b * x);
        return (0.5 * Math.Log(a / n * b / (2 * Math.PI)))
            - StableMath.Deviance(a, n * x, excess)
            - StableMath.Deviance(b, n * y, -excess)
            + StableMath.StirlingError(n) - StableMath.StirlingError(a) - StableMath.StirlingError(b);
    }

    /// <summary>The logit of the value below which a share p lies: log(x / (1 - x)) with I_x(a, b) = p.</summary>
    /// <param name="p">Share, between 0 and 1; the shares 0 and 1 give an infinite logit.</param>
    /// <param name="a">First parameter.</param>
    /// <param name="b">Second parameter.</param>
    /// <param name="start">Where to start; NaN for the mode.</param>
    internal static double LogitQuantile(double p, double a, double b, double start = double.NaN)
    {
        if (p is <= 0 or >= 1)
            return p <= 0 ? double.NegativeInfinity : double.PositiveInfinity;
        return p <= 0.5 ? SmallQuantile(Math.Log(p), a, b, start) : -SmallQuantile(Math.Log(1 - p), b, a, -start);
    }

    /// <summary>As <see cref="LogitQuantile"/>, the share q lying above.</summary>
    internal static double LogitUpperQuantile(double q, double a, double b, double start = double.NaN)
        => -LogitQuantile(q, b, a, -start);

    private static double SmallQuantile(double logShare, double a, double b, double start)
    {
        double u = double.IsNaN(start) ? Math.Log(a / b) : start;
        u = Math.Clamp(u, LogTiny, -LogTiny);
        double last = double.PositiveInfinity;
        for (int iteration = 0; iteration < MaximumNewton; iteration++)
        {
            double x = 1 / (1 + Math.Exp(-u));
            double y = 1 / (1 + Math.Exp(u));
            double tail = LogLower(a, b, x, y);
            if (u == LogTiny && tail > logShare)
                return u + ((logShare - tail) / a);
            double step = (logShare - tail) / Math.Exp(LogKernel(a, b, x, y) - tail);
            double next = Math.Clamp(u + step, LogTiny, -LogTiny);
            double size = Math.Abs(next - u);
            if (size <= 4e-16 * Math.Max(1, Math.Abs(u)) || (size < Noise && size >= last))
                return next;
            u = next;
            last = size;
        }
        throw new NotConvergedError("a quantile of the beta family was not reached", "Check that the degrees of freedom are positive and finite.", MaximumNewton);
    }

    private static double LogSmallTail(double a, double b, double x, double y, double excess)
    {
        double kernel = LogKernel(a, b, x, y);
        if (a <= FractionLimit)
            return kernel + Math.Log(Fraction(a, b, x) / a);
        double curvature = (a + b) * x * y;
        return kernel + Math.Log(TailQuadrature.Integrate(new LogitExponent(a + b, x, y, excess), 1 / (excess + Math.Sqrt(curvature))));
    }

    /// <summary>The continued fraction of I_x(a, b) without its leading factor x^a y^b / (a B(a, b)).</summary>
    private static double Fraction(double a, double b, double x)
    {
        const double Tiny = 1e-300;
        double c = 1;
        double d = 1 - ((a + b) * x / (a + 1));
        d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
        double value = d;
        for (int m = 1; m <= MaximumSteps; m++)
        {
            double even = m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m)));
            d = 1 + (even * d);
            c = 1 + (even / c);
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = Math.Abs(c) < Tiny ? Tiny : c;
            value *= d * c;
            double odd = -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1));
            d = 1 + (odd * d);
            c = 1 + (odd / c);
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = Math.Abs(c) < Tiny ? Tiny : c;
            double factor = d * c;
            value *= factor;
            if (Math.Abs(factor - 1) < 1e-16)
                return value;
        }
        return value;
    }

    /// <summary>The exponent a u - (a+b) log(1+e^u), going down from u = logit x; written in the smaller of x and y, which keeps the digits.</summary>
    private readonly struct LogitExponent(double total, double x, double y, double excess) : ITailExponent
    {
        public double At(double s)
        {
            double curved = x < y
                ? StableMath.Log1p(x * StableMath.Expm1(-s)) + (x * s)
                : StableMath.Log1p(y * StableMath.Expm1(s)) - (y * s);
            return (-excess * s) - (total * curved);
        }
    }
}
