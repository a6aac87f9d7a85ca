using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Prediction;

/// <summary>The area under the receiver operating characteristic curve: the chance that an event ranks above a non-event.</summary>
/// <param name="Events">Rows with the event.</param>
/// <param name="NonEvents">Rows without.</param>
/// <param name="Clusters">Independent clusters.</param>
/// <param name="Value">The area; ties count a half.</param>
/// <param name="StandardError">DeLong's, or Obuchowski's for clusters.</param>
/// <param name="Interval">Wald interval, held inside 0 to 1.</param>
/// <param name="PValue">Two-sided p value of the area being one half.</param>
public sealed record AreaEstimate(int Events, int NonEvents, int Clusters, double Value, double StandardError, ConfidenceInterval Interval, double PValue);

/// <summary>Area under the curve (concordance), with DeLong's variance and its extension to clusters.</summary>
/// <remarks>
/// <para>Placements: for each event the share of non-events ranked below it, and the reverse, from midranks in O(n log n)
/// (Sun and Xu 2014). DeLong's variance adds the variances of the placements; with clusters the placements are
/// summed inside each cluster and the covariance of a cluster's events and non-events is added (Obuchowski 1997). Clusters
/// of one row give DeLong's. A higher score must mean a higher risk.</para>
/// <para>Edges: perfect separation gives one with a standard error of zero, which understates the uncertainty; one cluster with
/// events, or without, is refused when clusters are given.</para>
/// <para><b>Sources.</b> DeLong ER, DeLong DM, Clarke-Pearson DL, Biometrics 1988;44:837-845; Obuchowski NA, Biometrics
/// 1997;53:567-578; Sun X, Xu W, IEEE Signal Process Lett 2014;21:1389-1393. <b>Checked against</b> Prediction/asah, Prediction/clustered_area.</para>
/// </remarks>
public static class AreaUnderCurve
{
    /// <summary>The area of one score.</summary>
    /// <param name="outcome">Whether the event happened.</param>
    /// <param name="score">Any number that rises with risk.</param>
    /// <param name="clusters">Clusters of dependent rows; null for independent rows.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">Fewer than two clusters with events, or without.</exception>
    public static AreaEstimate Estimate(IReadOnlyList<bool> outcome, IReadOnlyList<double> score, Clusters? clusters = null, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        Placements p = Placements.From(outcome, score, clusters);
        double error = Math.Sqrt(Math.Max(0, Placements.Covariance(p, p)));
        double half = StandardNormal.UpperQuantile((1 - level) / 2) * error;
        return new AreaEstimate(
            p.Events,
            p.NonEvents,
            p.Clusters.Count,
            p.Area,
            error,
            new ConfidenceInterval(Math.Max(0, p.Area - half), Math.Min(1, p.Area + half), level),
            error == 0 ? (p.Area == 0.5 ? 1 : 0) : StandardNormal.TwoSidedPValue((p.Area - 0.5) / error));
    }

    /// <summary>The difference of the areas of two scores of the same rows.</summary>
    public static Estimate Difference(IReadOnlyList<bool> outcome, IReadOnlyList<double> first, IReadOnlyList<double> second, Clusters? clusters = null, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        Placements a = Placements.From(outcome, first, clusters);
        Placements b = Placements.From(outcome, second, clusters);
        double variance = Placements.Covariance(a, a) + Placements.Covariance(b, b) - (2 * Placements.Covariance(a, b));
        // Two scores that rank alike differ by rounding only.
        double error = variance <= 1e-15 ? 0 : Math.Sqrt(variance);
        double difference = a.Area - b.Area;
        return error > 0
            ? Statistics.Estimate.Wald("difference of areas", difference, error, level: level)
            : new Estimate("difference of areas", difference, 0, double.PositiveInfinity, new ConfidenceInterval(difference, difference, level), 1);
    }
}
