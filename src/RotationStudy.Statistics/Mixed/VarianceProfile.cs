namespace RotationStudy.Statistics.Mixed;

/// <summary>Profile-likelihood intervals of the standard deviations of a linear mixed model.</summary>
/// <remarks>
/// At a fixed standard deviation d of an effect whose row of the factor L has length |L_k|, the residual variance follows as
/// d2 / |L_k|2, and the deviance is minimised over all of theta without bounds; at d = 0 the row is zero.
/// The likelihood is the one that was fitted, full or restricted.
/// </remarks>
internal sealed class VarianceProfile(ProfiledDeviance deviance, ProfiledDeviance.Point best, double residualVariance)
{
    private const string What = "the profile of a standard deviation";

    private readonly double least = deviance.Profiled(best);

    /// <summary>Interval of the residual standard deviation.</summary>
    internal ConfidenceInterval OfResidual(double level)
    {
        double estimate = Math.Sqrt(residualVariance);
        double[] warm = [.. best.Theta];
        return ProfileInterval.Find(
            value =>
            {
                double variance = value * value;
                SmoothMinimizer.Minimum found = SmoothMinimizer.Minimize((theta, gradient) => At(theta, gradient, variance), warm, What);
                return found.Value;
            },
            estimate,
            least,
            2 * estimate / Math.Sqrt(2.0 * deviance.Freedom),
            level,
            mayBeZero: false);
    }

    /// <summary>Interval of the standard deviation of one effect.</summary>
    internal ConfidenceInterval OfEffect(int term, int column, double level)
    {
        int[] row = [.. Enumerable.Range(0, best.Theta.Length).Where(m => deviance.Covariance.Cell(m).Term == term && deviance.Covariance.Cell(m).Row == column)];
        double length = Math.Sqrt(row.Sum(m => best.Theta[m] * best.Theta[m]));
        double unit = Math.Sqrt(residualVariance) / deviance.Covariance.Scale(term, column);
        return ProfileInterval.Find(
            value => value == 0 ? AtZero(row) : AtDeviation(row, length, value, unit, term, column),
            length * unit,
            least,
            Math.Max(length, 0.2) * unit / 2,
            level);
    }

    private double AtDeviation(int[] row, double length, double value, double unit, int term, int column)
    {
        double[] start = [.. best.Theta];
        foreach (int m in row)
        {
            if (length > 1e-6)
                start[m] *= value / unit / length;
            else if (deviance.Covariance.Cell(m).Column == column)
                start[m] = value / unit;
        }
        double scaled = value * deviance.Covariance.Scale(term, column);
        return SmoothMinimizer.Minimize(
            (theta, gradient) =>
            {
                double squared = 0;
                foreach (int m in row)
                    squared += theta[m] * theta[m];
                double variance = scaled * scaled / squared;
                ProfiledDeviance.Point at = deviance.At(theta);
                ProfiledDeviance.Slopes slopes = deviance.Differentiate(at);
                for (int m = 0; m < gradient.Length; m++)
                    gradient[m] = slopes.LogDeterminants[m] + (slopes.Residual[m] / variance);
                foreach (int m in row)
                    gradient[m] -= 2 * (deviance.Freedom - (at.Residual / variance)) * theta[m] / squared;
                return deviance.AtVariance(at, variance);
            },
            start,
            What).Value;
    }

    // The row of the effect is zero; the rest is free.
    private double AtZero(int[] row)
    {
        int[] free = [.. Enumerable.Range(0, best.Theta.Length).Where(m => !row.Contains(m))];
        if (free.Length == 0)
            return deviance.Profiled(deviance.At(new double[best.Theta.Length]));
        return SmoothMinimizer.Minimize(deviance.Among(free), [.. free.Select(m => best.Theta[m] == 0 ? 0.5 : best.Theta[m])], What).Value;
    }

    private double At(ReadOnlySpan<double> theta, Span<double> gradient, double variance)
    {
        ProfiledDeviance.Point at = deviance.At(theta);
        ProfiledDeviance.Slopes slopes = deviance.Differentiate(at);
        for (int m = 0; m < gradient.Length; m++)
            gradient[m] = slopes.LogDeterminants[m] + (slopes.Residual[m] / variance);
        return deviance.AtVariance(at, variance);
    }
}
