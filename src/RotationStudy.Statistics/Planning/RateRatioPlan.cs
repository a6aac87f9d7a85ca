namespace RotationStudy.Statistics.Planning;

/// <summary>Rows needed to find a rate ratio in Poisson or negative binomial regression, and what a number of rows can find.</summary>
/// <remarks>
/// A row followed for time t at rate r carries the information r t / (1 + a r t) about a log rate, a the dispersion of the negative
/// binomial (0 for Poisson); n = (z_(level/2) + z_power)^2 / (information x variance x (log ratio)^2 x (1 - R^2)). Taken at no effect, so
/// it is close for ratios per standard deviation below about 2. Rows that belong together multiply n by their <see cref="DesignEffect"/>;
/// where the dispersion is that of persons with several rows, say so by the design effect or by the dispersion, not by both.
/// <para><b>Sources</b>: Signorini DF. Biometrika 1991;78:446-450 (Poisson); Zhu H, Lakkis H. Stat Med 2014;33:376-387 (negative binomial,
/// variance at no effect). Recalled, not re-read.</para>
/// <para><b>Checked against</b>: without dispersion the expected events are those of <see cref="HazardRatioPlan"/>.</para>
/// </remarks>
public static class RateRatioPlan
{
    /// <summary>Rows needed, not rounded.</summary>
    /// <param name="ratio">Rate ratio per unit of the exposure.</param>
    /// <param name="eventsPerRow">Expected events of a row in its whole follow-up: rate times time.</param>
    /// <param name="dispersion">Dispersion of the negative binomial, 0 for Poisson.</param>
    /// <param name="exposureVariance">Variance of the exposure in the same unit.</param>
    /// <param name="target">Level and power.</param>
    /// <param name="explained">R^2 of the exposure on the other terms.</param>
    /// <param name="designEffect">Factor for rows that belong together.</param>
    /// <exception cref="InvalidInputError">A value outside its range, or a ratio of 1.</exception>
    public static double Rows(
        double ratio, double eventsPerRow, double dispersion, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
        => InformationPlan.Rows(PlanningInput.LogRatio(ratio), Information(eventsPerRow, dispersion), exposureVariance, target, explained, designEffect);

    /// <summary>Power of that many rows.</summary>
    /// <exception cref="InvalidInputError">A value outside its range, or a ratio of 1.</exception>
    public static double Power(
        double rows, double ratio, double eventsPerRow, double dispersion, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
        => InformationPlan.Power(rows, PlanningInput.LogRatio(ratio), Information(eventsPerRow, dispersion), exposureVariance, target, explained, designEffect);

    /// <summary>The ratio above 1 that this many rows find with the target's power.</summary>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double DetectableRatio(
        double rows, double eventsPerRow, double dispersion, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
        => Math.Exp(InformationPlan.DetectableEffect(rows, Information(eventsPerRow, dispersion), exposureVariance, target, explained, designEffect));

    private static double Information(double eventsPerRow, double dispersion)
    {
        PlanningInput.Positive(eventsPerRow, "expected events per row");
        PlanningInput.AtLeast(dispersion, 0, nameof(dispersion));
        return eventsPerRow / (1 + (dispersion * eventsPerRow));
    }
}
