namespace RotationStudy.Statistics.Distributions;

/// <summary>The noncentral t distribution: (Z + delta) over the root of an independent chi-square divided by its degrees of freedom.</summary>
/// <remarks>
/// The tail is the mean of the normal tail over the distribution of the root s: P(T at most t) = E Phi(t s - delta),
/// integrated by Gauss-Legendre panels between the 1e-17 quantiles of s. Absolute accuracy is 1e-12; the quantile, by
/// bisection and secant, has 1e-10 relative. <b>Source.</b> Johnson NL, Kotz S, Balakrishnan N, Continuous Univariate
/// Distributions 2, 1995, ch. 31. <b>Checked against</b> Distributions/noncentral_t.
/// </remarks>
public static class NoncentralT
{
    private const double Beyond = 1e-17;
    private const int Panels = 24;
    private const int MaximumSteps = 200;

    /// <summary>Probability of a value at or below t.</summary>
    public static double LowerTail(double t, double degreesOfFreedom, double noncentrality)
    {
        Domain.PositiveFinite(degreesOfFreedom, "degrees of freedom");
        if (!double.IsFinite(noncentrality) || double.IsNaN(t))
            throw new InvalidInputError($"no tail at {t} with noncentrality {noncentrality}", "Give finite numbers.");
        double v = degreesOfFreedom;
        double low = Math.Sqrt(ChiSquared.Quantile(Beyond, v) / v);
        double high = Math.Sqrt(ChiSquared.UpperQuantile(Beyond, v) / v);
        double logScale = Math.Log(2 * v);
        return TailQuadrature.Composite(
            s => s == 0 ? 0 : StandardNormal.LowerTail((t * s) - noncentrality) * Math.Exp(ChiSquared.LogDensity(v * s * s, v) + logScale + Math.Log(s)),
            low,
            high,
            Panels);
    }

    /// <summary>The value below which a share p of the distribution lies; p strictly between 0 and 1.</summary>
    public static double Quantile(double p, double degreesOfFreedom, double noncentrality)
    {
        Require.Probability(p, nameof(p));
        double centre = noncentrality;
        double step = 1 + (0.1 * Math.Abs(noncentrality));
        double low = centre - step;
        double high = centre + step;
        for (int i = 0; i < MaximumSteps && LowerTail(low, degreesOfFreedom, noncentrality) > p; i++)
            low = centre - (step *= 2);
        for (int i = 0; i < MaximumSteps && LowerTail(high, degreesOfFreedom, noncentrality) < p; i++)
            high = centre + (step *= 2);
        return BracketedRoot.Find(t => LowerTail(t, degreesOfFreedom, noncentrality) - p, low, high);
    }
}
