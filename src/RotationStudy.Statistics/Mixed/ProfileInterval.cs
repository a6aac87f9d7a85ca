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
        Func<double, double> rise = value => Math.Sqrt(Math.Max(0, deviance(value) - least)) - target;
        return new ConfidenceInterval(Lower(rise, estimate, step, -target, mayBeZero), Upper(rise, estimate, step, -target), level);
    }

    private static double Upper(Func<double, double> rise, double estimate, double step, double riseNear)
    {
        double near = estimate;
        for (int doubling = 0; doubling < 60; doubling++)
        {
            double far = estimate + step;
            double riseFar = rise(far);
            if (riseFar >= 0)
                return Root(rise, near, riseNear, far, riseFar);
            (near, riseNear) = (far, riseFar);
            step *= 2;
        }
        return double.PositiveInfinity;
    }

    private static double Lower(Func<double, double> rise, double estimate, double step, double riseNear, bool mayBeZero)
    {
        if (estimate <= 0)
            return 0;
        double near = estimate;
        while (!mayBeZero)
        {
            double half = Math.Max(near - step, near / 2);
            double riseHalf = rise(half);
            if (riseHalf > 0)
                return Root(rise, half, riseHalf, near, riseNear);
            (near, riseNear) = (half, riseHalf);
        }
        double atZero = rise(0);
        return atZero <= 0 ? 0 : Root(rise, 0, atZero, estimate, riseNear);
    }

    // A bracketing secant (the Illinois rule) between two values with rises of opposite sign.
    private static double Root(Func<double, double> rise, double a, double riseA, double b, double riseB)
    {
        for (int iteration = 0; iteration < 60; iteration++)
        {
            double x = ((a * riseB) - (b * riseA)) / (riseB - riseA);
            double found = rise(x);
            if (Math.Abs(found) < Tolerance || Math.Abs(b - a) < 1e-10 * Math.Abs(b))
                return x;
            if (found * riseB < 0)
                (a, riseA) = (b, riseB);
            else
                riseA *= 0.5;
            (b, riseB) = (x, found);
        }
        throw new NotConvergedError("an end of the profile interval was not found", "Use a lower level of confidence.", 60);
    }
}
