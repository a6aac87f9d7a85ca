namespace RotationStudy.Statistics.Distributions;

/// <summary>Elementary functions that keep their digits for small arguments, and the two pieces every density here is made of.</summary>
/// <remarks>
/// The framework's own LogP1 and ExpM1 are the plain differences and lose the digits. The deviance and the Stirling
/// error let a density be written without gamma functions of huge arguments, whose logarithms cancel.
/// <para><b>Sources.</b> Kahan's device for log(1+x) and exp(x)-1 (Higham, Accuracy and Stability of Numerical Algorithms,
/// 2002, sec. 1.14); Loader C, Fast and accurate computation of binomial probabilities, 2000.</para>
/// </remarks>
internal static class StableMath
{
    private const double StirlingSeriesFrom = 16;

    /// <summary>log(1 + x) with full relative precision near zero.</summary>
    internal static double Log1p(double x)
    {
        double u = 1 + x;
        if (u == 1)
            return x;
        return double.IsInfinity(u) ? u : Math.Log(u) * (x / (u - 1));
    }

    /// <summary>exp(x) - 1 with full relative precision near zero.</summary>
    internal static double Expm1(double x)
    {
        double u = Math.Exp(x);
        if (u == 1)
            return x;
        double difference = u - 1;
        if (difference == -1 || double.IsInfinity(u))
            return difference;
        return difference * (x / Math.Log(u));
    }

    /// <summary>log(1 - exp(x)) for x below zero: the log of the other tail.</summary>
    internal static double Log1mExp(double x)
        => x >= 0 ? double.NegativeInfinity : x > -0.6931471805599453 ? Math.Log(-Expm1(x)) : Log1p(-Math.Exp(x));

    /// <summary>The deviance x log(x/m) + m - x of a count x with mean m; the difference x - m is given, since it is known without cancellation.</summary>
    internal static double Deviance(double x, double m, double difference)
    {
        if (x == 0)
            return m;
        if (Math.Abs(difference) >= 0.1 * (x + m))
            return (x * Math.Log(x / m)) - difference;
        double v = difference / (x + m);
        double sum = difference * v;
        double power = 2 * x * v;
        double square = v * v;
        for (int j = 1; j < 100; j++)
        {
            power *= square;
            double next = sum + (power / ((2 * j) + 1));
            if (next == sum)
                break;
            sum = next;
        }
        return sum;
    }

    /// <summary>log Gamma(a) less Stirling's (a - 1/2) log a - a + log(2 pi)/2, for a above zero.</summary>
    internal static double StirlingError(double a)
    {
        double sum = 0;
        while (a < StirlingSeriesFrom)
        {
            sum += ((a + 0.5) * Log1p(1 / a)) - 1;
            a++;
        }
        double s = 1 / (a * a);
        double series = 1.0 / 12 - (s * (1.0 / 360 - (s * (1.0 / 1260 - (s * (1.0 / 1680 - (s * (1.0 / 1188 - (s * (691.0 / 360360))))))))));
        return sum + (series / a);
    }

    /// <summary>log Gamma(a) for a above zero.</summary>
    internal static double LogGamma(double a)
        => a is 1 or 2 ? 0 : ((a - 0.5) * Math.Log(a)) - a + (0.5 * Math.Log(2 * Math.PI)) + StirlingError(a);
}
