namespace RotationStudy.Statistics.Distributions;

/// <summary>The regularised incomplete gamma functions on the log scale, with their inverses: gamma, chi-square and Poisson tails.</summary>
/// <remarks>
/// <para>P(a, x) = integral from 0 to x of t^(a-1) e^-t dt / Gamma(a), Q = 1 - P. Below <see cref="SeriesLimit"/> the
/// power series (x up to a + 1) or the continued fraction (beyond) serves; above it the smaller tail is integrated on
/// the log scale (<see cref="TailQuadrature"/>). The leading factor follows Loader (2000).</para>
/// <para>The inverses are Newton's method for log P or log Q as a function of log x, started outside the root (by the
/// bound of Laurent and Massart for the upper tail), from where it approaches monotonically by log-concavity.</para>
/// <para><b>Sources.</b> Abramowitz and Stegun 1964, 6.5.29 and 6.5.31; Laurent and Massart, Ann Stat 2000;28:1302-1338, lemma 1; Loader 2000.</para>
/// </remarks>
internal static class IncompleteGamma
{
    private const double SeriesLimit = 3000;
    private const double LogTiny = -700;
    // Steps this small that no longer shrink are rounding of the tail, not distance to the root.
    private const double Noise = 1e-10;
    private const int MaximumSteps = 20000;
    private const int MaximumNewton = 400;

    /// <summary>log P(a, x).</summary>
    internal static double LogLower(double a, double x)
    {
        if (x <= 0)
            return double.NegativeInfinity;
        if (double.IsPositiveInfinity(x))
            return 0;
        if (a > SeriesLimit ? x <= a : x < a + 1)
            return Math.Min(0, LogSmallLower(a, x));
        return StableMath.Log1mExp(LogSmallUpper(a, x));
    }

    /// <summary>log Q(a, x).</summary>
    internal static double LogUpper(double a, double x)
    {
        if (x <= 0)
            return 0;
        if (double.IsPositiveInfinity(x))
            return double.NegativeInfinity;
        if (a > SeriesLimit ? x <= a : x < a + 1)
            return StableMath.Log1mExp(LogSmallLower(a, x));
        return Math.Min(0, LogSmallUpper(a, x));
    }

    /// <summary>The log density of log x: log of x^a e^-x / Gamma(a).</summary>
    internal static double LogKernel(double a, double x)
        => (0.5 * Math.Log(a / (2 * Math.PI))) - StableMath.Deviance(a, x, a - x) - StableMath.StirlingError(a);

    /// <summary>The value x with P(a, x) = p.</summary>
    internal static double Quantile(double p, double a)
    {
        if (p is <= 0 or >= 1)
            return p <= 0 ? 0 : double.PositiveInfinity;
        return p <= 0.5 ? LowerQuantile(p, a) : UpperTailQuantile(1 - p, a);
    }

    /// <summary>The value x with Q(a, x) = q.</summary>
    internal static double UpperQuantile(double q, double a)
    {
        if (q is <= 0 or >= 1)
            return q <= 0 ? double.PositiveInfinity : 0;
        return q <= 0.5 ? UpperTailQuantile(q, a) : LowerQuantile(1 - q, a);
    }

    private static double LowerQuantile(double p, double a)
    {
        double target = Math.Log(p);
        double u = Math.Log(a);
        double last = double.PositiveInfinity;
        for (int iteration = 0; iteration < MaximumNewton; iteration++)
        {
            double x = Math.Exp(u);
            double tail = LogLower(a, x);
            if (u == LogTiny && tail > target)
                return Math.Exp(u + ((target - tail) / a));
            double step = (target - tail) / Math.Exp(LogKernel(a, x) - tail);
            double next = Math.Max(LogTiny, u + step);
            double size = Math.Abs(next - u);
            if (Settled(size, last, u))
                return Math.Exp(next);
            u = next;
            last = size;
        }
        throw NotReached();
    }

    private static double UpperTailQuantile(double q, double a)
    {
        double target = Math.Log(q);
        double u = Math.Log(a + Math.Sqrt(-2 * a * target) - target);
        double last = double.PositiveInfinity;
        for (int iteration = 0; iteration < MaximumNewton; iteration++)
        {
            double x = Math.Exp(u);
            double tail = LogUpper(a, x);
            double step = (tail - target) / Math.Exp(LogKernel(a, x) - tail);
            double next = Math.Max(LogTiny, u + step);
            double size = Math.Abs(next - u);
            if (Settled(size, last, u))
                return Math.Exp(next);
            u = next;
            last = size;
        }
        throw NotReached();
    }

    private static bool Settled(double size, double last, double u)
        => size <= 4e-16 * Math.Max(1, Math.Abs(u)) || (size < Noise && size >= last);

    private static NotConvergedError NotReached()
        => new("a quantile of the gamma family was not reached", "Check that the shape is positive and finite.", MaximumNewton);

    private static double LogSmallLower(double a, double x)
    {
        if (a > SeriesLimit)
            return LogKernel(a, x) + Math.Log(TailQuadrature.Integrate(new LogExponent(a - x, x, -1), Scale(a, x)));
        double term = 1;
        double sum = 1;
        for (int n = 1; n <= MaximumSteps && term > sum * 1e-17; n++)
        {
            term *= x / (a + n);
            sum += term;
        }
        return LogKernel(a, x) + Math.Log(sum / a);
    }

    private static double LogSmallUpper(double a, double x)
        => LogKernel(a, x) + Math.Log(a > SeriesLimit
            ? TailQuadrature.Integrate(new LogExponent(x - a, x, 1), Scale(a, x))
            : Fraction(a, x));

    private static double Scale(double a, double x) => 1 / (Math.Abs(a - x) + Math.Sqrt(x));

    /// <summary>The continued fraction of Q(a, x) without its leading factor x^a e^-x / Gamma(a).</summary>
    private static double Fraction(double a, double x)
    {
        const double Tiny = 1e-300;
        double b = x + 1 - a;
        double c = 1 / Tiny;
        double d = 1 / b;
        double value = d;
        for (int i = 1; i <= MaximumSteps; i++)
        {
            double numerator = -i * (i - a);
            b += 2;
            d = (numerator * d) + b;
            d = 1 / (Math.Abs(d) < Tiny ? Tiny : d);
            c = b + (numerator / c);
            c = Math.Abs(c) < Tiny ? Tiny : c;
            double factor = d * c;
            value *= factor;
            if (Math.Abs(factor - 1) < 1e-16)
                break;
        }
        return value;
    }

    /// <summary>The exponent a u - e^u, going away from log x: up (sign 1) or down (sign -1).</summary>
    private readonly struct LogExponent(double slope, double x, int sign) : ITailExponent
    {
        public double At(double s) => (-slope * s) - (x * (StableMath.Expm1(sign * s) - (sign * s)));
    }
}
