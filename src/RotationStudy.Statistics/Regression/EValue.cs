namespace RotationStudy.Statistics.Regression;

/// <summary>How strong unmeasured confounding would have to be to explain an estimate away.</summary>
/// <param name="OfEstimate">E-value of the estimate, 1 or more.</param>
/// <param name="OfInterval">E-value of the end of the interval nearer to 1; 1 where the interval holds 1.</param>
/// <remarks>
/// <para><b>Equation</b>: for a risk ratio RR above 1, RR + sqrt(RR (RR - 1)); below 1 the same of 1/RR. It is the smallest risk ratio
/// that a confounder must have with both exposure and outcome, beyond what is adjusted for, to move the estimate to 1.</para>
/// <para><b>Other scales</b>: odds and hazard ratios are near risk ratios while the outcome is rare (under 15% at the end of
/// follow-up). Where it is common, sqrt(OR) stands for the risk ratio, and for hazard ratios
/// (1 - 0.5^sqrt(HR)) / (1 - 0.5^sqrt(1/HR)). Rate ratios are taken as they are. A difference d in standard deviations of the
/// outcome stands for exp(0.91 d), the square root of the odds ratio exp(1.81 d).</para>
/// <para><b>Sources</b>: VanderWeele TJ, Ding P. Ann Intern Med 2017;167:268-274 (formulas recalled, not re-read). Chinn S. Stat Med
/// 2000;19:3127-3131 (1.81; recalled, not re-read).</para>
/// </remarks>
public sealed record EValue(double OfEstimate, double OfInterval)
{
    /// <summary>E-values of a risk ratio, or of what stands for one.</summary>
    /// <param name="ratio">Estimate, above 0.</param>
    /// <param name="interval">Its interval.</param>
    /// <exception cref="InvalidInputError">A ratio that is not positive and finite.</exception>
    public static EValue OfRiskRatio(double ratio, ConfidenceInterval interval)
    {
        double nearer = ratio >= 1 ? Math.Max(interval.Lower, 1) : Math.Min(interval.Upper, 1);
        return new EValue(Of(ratio), Of(nearer));
    }

    /// <summary>What stands for the risk ratio of a common outcome, from its odds ratio.</summary>
    public static double RiskRatioFromOdds(double oddsRatio) => Math.Sqrt(oddsRatio);

    /// <summary>What stands for the risk ratio of a common outcome, from its hazard ratio.</summary>
    public static double RiskRatioFromHazard(double hazardRatio)
        => double.IsPositiveInfinity(hazardRatio) ? hazardRatio
            : hazardRatio == 0 ? 0
            : (1 - Math.Pow(0.5, Math.Sqrt(hazardRatio))) / (1 - Math.Pow(0.5, Math.Sqrt(1 / hazardRatio)));

    /// <summary>What stands for the risk ratio of a numeric outcome, from the difference over its standard deviation.</summary>
    public static double RiskRatioFromDifference(double standardizedDifference) => Math.Exp(0.91 * standardizedDifference);

    private static double Of(double ratio)
    {
        if (!(ratio > 0) || !double.IsFinite(ratio))
            throw new InvalidInputError($"a risk ratio of {ratio} has no E-value", "Give a ratio above 0.");
        double above = ratio >= 1 ? ratio : 1 / ratio;
        return above + Math.Sqrt(above * (above - 1));
    }
}
