namespace RotationStudy.Statistics.Planning;

/// <summary>Rows needed to find an odds ratio in logistic regression, and what a number of rows can find.</summary>
/// <remarks>
/// n = (z_(level/2) + z_power)^2 / (p (1 - p) x variance x (log ratio)^2 x (1 - R^2)), p the probability of the outcome at the mean of the
/// exposure. It is close where the exposure is continuous and roughly normal and the ratio per standard deviation stays below about 2.5.
/// Rows that belong together multiply n by their <see cref="DesignEffect"/>.
/// <para><b>Source</b>: Hsieh FY, Bloch DA, Larsen MD. Stat Med 1998;17:1623-1634, equations 1 and 4.</para>
/// <para><b>Checked against</b>: the balanced design of its table II, ratio 1.5 per standard deviation, level 5%, power 95%: 317 rows.</para>
/// </remarks>
public static class OddsRatioPlan
{
    /// <summary>Rows needed, not rounded.</summary>
    /// <param name="ratio">Odds ratio per unit of the exposure.</param>
    /// <param name="probability">Probability of the outcome at the mean of the exposure.</param>
    /// <param name="exposureVariance">Variance of the exposure in the same unit.</param>
    /// <param name="target">Level and power.</param>
    /// <param name="explained">R^2 of the exposure on the other terms.</param>
    /// <param name="designEffect">Factor for rows that belong together.</param>
    /// <exception cref="InvalidInputError">A value outside its range, or a ratio of 1.</exception>
    public static double Rows(double ratio, double probability, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
        => InformationPlan.Rows(PlanningInput.LogRatio(ratio), Information(probability), exposureVariance, target, explained, designEffect);

    /// <summary>Power of that many rows.</summary>
    /// <exception cref="InvalidInputError">A value outside its range, or a ratio of 1.</exception>
    public static double Power(double rows, double ratio, double probability, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
        => InformationPlan.Power(rows, PlanningInput.LogRatio(ratio), Information(probability), exposureVariance, target, explained, designEffect);

    /// <summary>The ratio above 1 that this many rows find with the target's power.</summary>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double DetectableRatio(double rows, double probability, double exposureVariance, TestTarget target, double explained = 0, double designEffect = 1)
        => Math.Exp(InformationPlan.DetectableEffect(rows, Information(probability), exposureVariance, target, explained, designEffect));

    private static double Information(double probability)
    {
        Require.Probability(probability, "probability of the outcome");
        return probability * (1 - probability);
    }
}
