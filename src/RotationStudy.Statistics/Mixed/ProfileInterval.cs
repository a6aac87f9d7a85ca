using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Mixed;

/// <summary>The interval of a standard deviation from its profile: where the deviance rises by the chi-square quantile.</summary>
/// <remarks>
/// The signed root of the rise is nearly straight in the parameter, so a secant within brackets finds each end in a few
/// fits. Where the deviance at zero has risen less than the quantile, the lower bound is zero.
/// </remarks>
internal static class ProfileInterval
{
    private const double Tolerance = 1e-8;

    /// <param name="deviance">Deviance at a value of the parameter, best over all others; never called below zero.</param>
    /// <param name="estimate">Where it is least.</param>
    /// <param name="least">Its value there.</param>
    /// <param name="step">A first guess at the interval's half width.</param>
    /// <param name="level">Level of confidence.</param>
    /// <param name="mayBeZero">Whether the deviance exists at zero; otherwise the lower end is sought by halving.</param>
    internal static ConfidenceInterval Find(Func<double, double> deviance, double estimate, double least, double step, double level, bool mayBeZero = true)
    {
        double target = Math.Sqrt(ChiSquared.Quantile(level, 1));
        double upper = estimate + step;
        double riseUpper = Rise(upper);
        double lowerEnd = estimate;
        double riseLowerEnd = -target;
        for (int doubling = 0; riseUpper < 0; doubling++)
        {
            if (doubling == 60)
                return new ConfidenceInterval(Lower(), double.PositiveInfinity, level);
            (lowerEnd, riseLowerEnd) = (upper, riseUpper);
            step *= 2;
            upper = estimate + step;
            riseUpper = Rise(upper);
        }
        double high = Root(lowerEnd, riseLowerEnd, upper, riseUpper);
        return new ConfidenceInterval(Lower(), high, level);

        double Rise(double value) => Math.Sqrt(Math.Max(0, deviance(value) - least)) - target;

        double Lower()
        {
            if (estimate <= 0)
                return 0;
            double near = estimate;
            double riseNear = -target;
            while (!mayBeZero)
            {
                double half = Math.Max(near - step, near / 2);
                double rise = Rise(half);
                if (rise > 0)
                    return Root(half, rise, near, riseNear);
                (near, riseNear) = (half, rise);
            }
            double atZero = Rise(0);
            return atZero <= 0 ? 0 : Root(0, atZero, estimate, -target);
        }

        // A bracketing secant (the Illinois rule) between two values with rises of opposite sign.
        double Root(double a, double riseA, double b, double riseB)
        {
            for (int iteration = 0; iteration < 60; iteration++)
            {
                double x = ((a * riseB) - (b * riseA)) / (riseB - riseA);
                double rise = Rise(x);
                if (Math.Abs(rise) < Tolerance || Math.Abs(b - a) < 1e-10 * Math.Max(estimate, Math.Abs(b)))
                    return x;
                if (rise * riseB < 0)
                    (a, riseA) = (b, riseB);
                else
                    riseA *= 0.5;
                (b, riseB) = (x, rise);
            }
            throw new NotConvergedError("an end of the profile interval was not found", "Use a lower level of confidence.", 60);
        }
    }
}
