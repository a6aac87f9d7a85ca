namespace RotationStudy.Statistics.Solvers;

/// <summary>exp(x) - 1 and log(1 + x) with all their digits near zero, where the plain forms lose them.</summary>
internal static class Exponential
{
    /// <summary>log(1 + x), after the correction that W. Kahan describes for the rounding of 1 + x.</summary>
    internal static double Log1Plus(double x)
    {
        double u = 1 + x;
        return u == 1 ? x : Math.Log(u) * (x / (u - 1));
    }

    /// <summary>exp(x) - 1, by the same correction.</summary>
    internal static double Minus1(double x)
    {
        if (Math.Abs(x) > 0.5)
            return Math.Exp(x) - 1;
        double u = Math.Exp(x);
        return u == 1 ? x : (u - 1) * (x / Math.Log(u));
    }
}
