namespace RotationStudy.Statistics.Distributions;

/// <summary>The root of a continuous function between two points of opposite sign: regula falsi with the Illinois step, and bisection where it stalls.</summary>
internal static class BracketedRoot
{
    private const int MaximumSteps = 300;

    /// <summary>Finds the root to about 1e-14 of its size, or to where the function is rounding noise.</summary>
    internal static double Find(Func<double, double> function, double low, double high)
    {
        double atLow = function(low);
        double atHigh = function(high);
        if (atLow == 0 || atHigh == 0)
            return atLow == 0 ? low : high;
        if (double.IsNaN(atLow) || double.IsNaN(atHigh) || atLow > 0 == atHigh > 0)
            throw new NotConvergedError("the two ends do not bracket a root", "Check that the quantity asked for exists.", 0);
        int side = 0;
        for (int i = 0; i < MaximumSteps && Math.Abs(high - low) > 1e-14 * Math.Max(Math.Abs(low), Math.Abs(high)); i++)
        {
            double next = i % 8 == 7 ? 0.5 * (low + high) : ((low * atHigh) - (high * atLow)) / (atHigh - atLow);
            if (!(next > Math.Min(low, high) && next < Math.Max(low, high)))
                next = 0.5 * (low + high);
            double value = function(next);
            if (value == 0)
                return next;
            if (value > 0 == atHigh > 0)
            {
                (high, atHigh) = (next, value);
                atLow = side == 1 ? 0.5 * atLow : atLow;
                side = 1;
            }
            else
            {
                (low, atLow) = (next, value);
                atHigh = side == -1 ? 0.5 * atHigh : atHigh;
                side = -1;
            }
        }
        return 0.5 * (low + high);
    }
}
