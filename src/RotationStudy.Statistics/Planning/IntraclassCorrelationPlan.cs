using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Planning;

/// <summary>Subjects needed to know an intraclass correlation with an interval of wanted width.</summary>
/// <remarks>
/// n = 8 z^2 (1 - r)^2 (1 + (k - 1) r)^2 / (k (k - 1) w^2) + 1 for k readings per subject, expected correlation r and full width w; for
/// two readings and r of 0.7 or more the approximation is short by about 5 r, which is added.
/// <para><b>Source</b>: Bonett DG. Stat Med 2002;21:1331-1335. <b>Checked against</b> its example: r = 0.8, k = 2, w = 0.2: 51, corrected 55.</para>
/// </remarks>
public static class IntraclassCorrelationPlan
{
    /// <summary>Subjects needed, not rounded.</summary>
    /// <param name="correlation">Expected intraclass correlation, from 0 to below 1.</param>
    /// <param name="readings">Readings per subject, 2 or more.</param>
    /// <param name="width">Full width of the interval.</param>
    /// <param name="confidence">Confidence of the interval.</param>
    /// <param name="corrected">Whether to add what the approximation lacks for two readings and a high correlation.</param>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double Subjects(double correlation, int readings, double width, double confidence = ConfidenceInterval.DefaultLevel, bool corrected = true)
    {
        PlanningInput.ShareBelowOne(correlation, "expected intraclass correlation");
        PlanningInput.AtLeast(readings, 2, "readings per subject");
        PlanningInput.Positive(width, "width of the interval");
        Require.Probability(confidence, nameof(confidence));
        double z = StandardNormal.UpperQuantile((1 - confidence) / 2);
        double spread = (1 - correlation) * (1 + ((readings - 1) * correlation));
        double n = (8 * z * z * spread * spread / (readings * (readings - 1) * width * width)) + 1;
        return corrected && readings == 2 && correlation >= 0.7 ? Math.Ceiling(n) + (5 * correlation) : n;
    }
}
