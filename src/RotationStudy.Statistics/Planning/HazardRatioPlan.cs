namespace RotationStudy.Statistics.Planning;

/// <summary>Events needed to find a hazard ratio, and what a number of events can find.</summary>
/// <remarks>
/// D = (z_(level/2) + z_power)^2 / (variance x (log ratio)^2 x (1 - R^2)). The variance is p (1 - p) for two groups with share p
/// and sd^2 for a continuous exposure; R^2 is the share of the exposure's variance that the other terms explain. Rows that belong
/// together multiply D by their <see cref="DesignEffect"/>. The formula holds for ratios that are not far from one and
/// censoring that does not depend on the exposure. With a competing event count the events of interest and read the ratio as
/// cause-specific.
/// <para><b>Sources</b>: Schoenfeld DA. Biometrics 1983;39:499-503; Hsieh FY, Lavori PW. Control Clin Trials 2000;21:552-560.</para>
/// <para><b>Checked against</b>: two groups of equal size, ratio 2, power 80%: 66 events (Schoenfeld 1983); the myeloma example of
/// Hsieh and Lavori: 64 events, 78 with R^2 = 0.1837 (recalled, not re-read).</para>
/// </remarks>
public static class HazardRatioPlan
{
    /// <summary>Variance of an indicator of a group that holds this share of the rows.</summary>
    /// <exception cref="InvalidInputError">A share that is no probability strictly between 0 and 1.</exception>
    public static double VarianceOfShare(double share)
    {
        Require.Probability(share, "share of the group");
        return share * (1 - share);
    }

    /// <summary>Events needed, not rounded.</summary>
    /// <param name="ratio">Hazard ratio per unit of the exposure.</param>
    /// <param name="exposureVariance">Variance of the exposure in the same unit.</param>
    /// <param name="target">Level and power.</param>
    /// <param name="explained">R^2 of the exposure on the other terms.</param>
    /// <param name="designEffect">Factor for rows that belong together.</param>
    /// <exception cref="InvalidInputError">A value outside its range, or a ratio of 1.</exception>
    public static double Events(double ratio, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
    {
        double log = PlanningInput.LogRatio(ratio);
        Check(exposureVariance, explained, designEffect);
        return target.SquaredQuantiles() * designEffect / (exposureVariance * log * log * (1 - explained));
    }

    /// <summary>Power of that many events.</summary>
    /// <exception cref="InvalidInputError">A value outside its range, or a ratio of 1.</exception>
    public static double Power(double events, double ratio, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
    {
        double log = PlanningInput.LogRatio(ratio);
        PlanningInput.AtLeast(events, 0, nameof(events));
        Check(exposureVariance, explained, designEffect);
        return target.PowerAt(log * Math.Sqrt(events * exposureVariance * (1 - explained) / designEffect));
    }

    /// <summary>The ratio above 1 that this many events find with the target's power.</summary>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double DetectableRatio(double events, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
    {
        PlanningInput.Positive(events, nameof(events));
        Check(exposureVariance, explained, designEffect);
        return Math.Exp(Math.Sqrt(target.SquaredQuantiles() * designEffect / (events * exposureVariance * (1 - explained))));
    }

    private static void Check(double exposureVariance, double explained, double designEffect)
    {
        PlanningInput.Positive(exposureVariance, "variance of the exposure");
        PlanningInput.ShareBelowOne(explained, "R^2 of the exposure on the other terms");
        PlanningInput.Positive(designEffect, "design effect");
    }
}
