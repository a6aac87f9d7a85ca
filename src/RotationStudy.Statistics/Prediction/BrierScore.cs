namespace RotationStudy.Statistics.Prediction;

/// <summary>The mean squared difference between predicted risk and outcome.</summary>
/// <param name="Score">The score with a cluster-robust interval; zero is perfect.</param>
/// <param name="Scaled">One minus the score over that of predicting the overall risk for all: zero for no information, negative for worse.</param>
public sealed record BrierEstimate(Estimate Score, double Scaled);

/// <summary>Brier's score of predicted risks.</summary>
/// <remarks>
/// The standard error is that of a mean over clusters, G/(G-1) included. <b>Sources.</b> Brier GW, Mon Weather Rev 1950;78:1-3;
/// Steyerberg EW et al., Epidemiology 2010;21:128-138 (scaled). <b>Checked against</b> Binary/birthwt.
/// </remarks>
public static class BrierScore
{
    /// <summary>Estimates the score.</summary>
    public static BrierEstimate Estimate(PredictedRisks risks, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        double[] squared = new double[risks.Rows];
        for (int i = 0; i < squared.Length; i++)
        {
            double difference = (risks.Outcome[i] ? 1 : 0) - risks.Risk[i];
            squared[i] = difference * difference;
        }
        (double mean, double error) = risks.ClusterMean(squared);
        double overall = (double)risks.Events / risks.Rows;
        return new BrierEstimate(Statistics.Estimate.Wald("Brier score", mean, error, level: level), 1 - (mean / (overall * (1 - overall))));
    }
}
