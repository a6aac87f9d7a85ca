namespace RotationStudy.Statistics.Prediction;

/// <summary>Net benefit at one threshold of risk.</summary>
/// <param name="Threshold">The risk above which one would act.</param>
/// <param name="Model">Acting on the predicted risk, with a cluster-robust interval.</param>
/// <param name="ActOnAll">Acting on everyone.</param>
/// <param name="ActOnNone">Acting on no one: zero.</param>
public sealed record NetBenefit(double Threshold, Estimate Model, double ActOnAll, double ActOnNone);

/// <summary>Decision curve: what acting on predicted risks is worth, in true positives per row.</summary>
/// <remarks>
/// Net benefit = true positives / n - false positives / n times t / (1 - t); a risk equal to the threshold counts as above. The threshold
/// expresses how many false alarms one true one is worth. <b>Source.</b> Vickers AJ, Elkin EB, Med Decis Making 2006;26:565-574.
/// <b>Checked against</b> a case by hand.
/// </remarks>
public static class DecisionCurve
{
    /// <summary>Net benefit at each threshold.</summary>
    /// <exception cref="InvalidInputError">A threshold not strictly between 0 and 1.</exception>
    public static IReadOnlyList<NetBenefit> Estimate(PredictedRisks risks, IReadOnlyList<double> thresholds, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        NetBenefit[] curve = new NetBenefit[thresholds.Count];
        for (int t = 0; t < curve.Length; t++)
        {
            Require.Probability(thresholds[t], "threshold");
            curve[t] = At(risks, thresholds[t], level);
        }
        return curve;
    }

    private static NetBenefit At(PredictedRisks risks, double threshold, double level)
    {
        double odds = threshold / (1 - threshold);
        double[] gain = new double[risks.Rows];
        for (int i = 0; i < gain.Length; i++)
            gain[i] = risks.Risk[i] < threshold ? 0 : risks.Outcome[i] ? 1 : -odds;
        (double mean, double error) = risks.ClusterMean(gain);
        double overall = (double)risks.Events / risks.Rows;
        Estimate model = error > 0
            ? Statistics.Estimate.Wald("net benefit", mean, error, level: level)
            : new Estimate("net benefit", mean, 0, double.PositiveInfinity, new ConfidenceInterval(mean, mean, level), mean == 0 ? 1 : 0);
        return new NetBenefit(threshold, model, overall - ((1 - overall) * odds), 0);
    }
}
