using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>Profile intervals and tests of single coefficients under Firth's penalised likelihood.</summary>
internal static class FirthProfile
{
    private const int MaximumSteps = 200;
    private const double BoundTolerance = 1e-10;

    internal static IReadOnlyList<Estimate> Estimates(FirthLikelihood profiled, FirthLikelihood full, Coefficients coefficients, double level)
    {
        double quantile = ChiSquared.Quantile(level, 1);
        double[] inverse = full.Factor.Inverse();
        Estimate[] estimates = new Estimate[full.Values.Length];
        for (int j = 0; j < estimates.Length; j++)
        {
            double unit = Math.Sqrt(inverse[(j * estimates.Length) + j]);
            double lower = Bound(profiled, full, j, -unit, quantile);
            double upper = Bound(profiled, full, j, unit, quantile);
            double p = ChiSquared.UpperTail(Fall(profiled, full, j, 0, full.Values), 1);
            estimates[j] = new Estimate(
                coefficients.Terms[j], full.Values[j], coefficients.StandardError(j), double.PositiveInfinity, new ConfidenceInterval(lower, upper, level), p);
        }
        return estimates;
    }

    // Where twice the fall of the profile reaches the quantile on the side of 'unit': bracketed by doubling, then closed by
    // regula falsi on the signed root of the fall, which is nearly straight, with Illinois weights.
    private static double Bound(FirthLikelihood profiled, FirthLikelihood full, int column, double unit, double quantile)
    {
        double target = Math.Sqrt(quantile);
        double inner = 0;
        double innerGap = -target;
        double outer = target;
        double outerGap = Gap(profiled, full, column, outer * unit, target, full.Values);
        while (outerGap < 0)
        {
            (inner, innerGap) = (outer, outerGap);
            outer *= 2;
            if (outer > 1e6)
                return Math.CopySign(double.PositiveInfinity, unit);
            outerGap = Gap(profiled, full, column, outer * unit, target, [.. profiled.Values]);
        }
        int side = 0;
        for (int step = 0; step < MaximumSteps; step++)
        {
            double at = outer - (outerGap * (outer - inner) / (outerGap - innerGap));
            double gap = Gap(profiled, full, column, at * unit, target, [.. profiled.Values]);
            if (Math.Abs(gap) < BoundTolerance * target || outer - inner < BoundTolerance * outer)
                return full.Values[column] + (at * unit);
            if (gap > 0)
            {
                (outer, outerGap) = (at, gap);
                innerGap *= side == 1 ? 0.5 : 1;
                side = 1;
            }
            else
            {
                (inner, innerGap) = (at, gap);
                outerGap *= side == -1 ? 0.5 : 1;
                side = -1;
            }
        }
        throw new NotConvergedError($"the profile interval of '{full.Design.Names[column]}' was not closed", "Look for columns on very different scales.", MaximumSteps);
    }

    private static double Gap(FirthLikelihood profiled, FirthLikelihood full, int column, double move, double target, double[] start)
        => Math.Sqrt(Fall(profiled, full, column, full.Values[column] + move, start)) - target;

    // Twice the fall of the penalised log-likelihood when one coefficient is held at a value.
    private static double Fall(FirthLikelihood profiled, FirthLikelihood full, int column, double value, double[] start)
    {
        double[] from = [.. start];
        from[column] = value;
        profiled.Maximize(from, [column]);
        return Math.Max(0, 2 * (full.PenalizedLogLikelihood - profiled.PenalizedLogLikelihood));
    }
}
