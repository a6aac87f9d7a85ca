using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Planning;

/// <summary>Pairs of readings needed to know limits of agreement with an interval of wanted width.</summary>
/// <remarks>
/// The variance of a limit is about 3 s^2 / n, s the standard deviation of the differences, so that the interval is the limit plus and
/// minus z root(3 / n) s. <b>Source</b>: Bland JM, Altman DG. Lancet 1986;327:307-310. <b>Checked against</b> their statement that 100 pairs give
/// plus and minus 0.34 s and 200 pairs 0.24 s.
/// </remarks>
public static class LimitsOfAgreementPlan
{
    /// <summary>Half the width of the interval of a limit.</summary>
    /// <param name="pairs">Number of pairs.</param>
    /// <param name="differenceSd">Standard deviation of the differences.</param>
    /// <param name="confidence">Confidence of the interval.</param>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double HalfWidth(double pairs, double differenceSd, double confidence = ConfidenceInterval.DefaultLevel)
    {
        PlanningInput.AtLeast(pairs, 2, "number of pairs");
        PlanningInput.Positive(differenceSd, "standard deviation of the differences");
        Require.Probability(confidence, nameof(confidence));
        return StandardNormal.UpperQuantile((1 - confidence) / 2) * Math.Sqrt(3 / pairs) * differenceSd;
    }

    /// <summary>Pairs needed for that half width, not rounded.</summary>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double Pairs(double halfWidth, double differenceSd, double confidence = ConfidenceInterval.DefaultLevel)
    {
        PlanningInput.Positive(halfWidth, "half width");
        PlanningInput.Positive(differenceSd, "standard deviation of the differences");
        Require.Probability(confidence, nameof(confidence));
        double z = StandardNormal.UpperQuantile((1 - confidence) / 2) * differenceSd / halfWidth;
        return 3 * z * z;
    }
}
