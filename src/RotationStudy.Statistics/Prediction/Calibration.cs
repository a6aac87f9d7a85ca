using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Prediction;

/// <summary>Whether predicted risks are right on the whole and spread rightly.</summary>
/// <param name="ObservedOverExpected">Events over the sum of predicted risks.</param>
/// <param name="Intercept">Calibration in the large: the shift in log odds, slope held at one; zero is right.</param>
/// <param name="Slope">Slope of the log odds of the outcome on the predicted log odds; one is right, below one too extreme. Its p value is that of a slope of zero.</param>
public sealed record CalibrationEstimate(double ObservedOverExpected, Estimate Intercept, Estimate Slope);

/// <summary>Calibration intercept and slope of predicted risks, by logistic regression on the predicted log odds.</summary>
/// <remarks>
/// <para>Slope: logit P(event) = a + b l, l = logit of the predicted risk. Intercept: logit P(event) = a + l with b fixed at
/// one. Fit and variance are those of <see cref="LogisticRegression"/>: cluster-robust where clusters hold more than one
/// row, model-based otherwise.</para>
/// <para>Risks of exactly 0 or 1 have no log odds and are refused; risks that separate the outcome are a separation error;
/// equal risks have no slope and are named as rank-deficient.</para>
/// <para><b>Sources.</b> Cox DR, Biometrika 1958;45:562-565; Van Calster B et al., J Clin Epidemiol 2016;74:167-176.
/// <b>Checked against</b> Prediction/calibration.</para>
/// </remarks>
public static class Calibration
{
    private const string LogOdds = "predicted log odds";

    /// <summary>Log of observed over expected events; its interval lets rows of a cluster depend and takes the predicted risks as given.</summary>
    /// <param name="risks">Predicted risks and what happened.</param>
    /// <param name="level">Level of confidence.</param>
    public static Estimate LogObservedOverExpected(PredictedRisks risks, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        double[] outcome = new double[risks.Rows];
        double expected = 0;
        for (int i = 0; i < outcome.Length; i++)
        {
            outcome[i] = risks.Outcome[i] ? 1 : 0;
            expected += risks.Risk[i];
        }
        (double mean, double error) = risks.ClusterMean(outcome);
        return Statistics.Estimate.Wald("log observed over expected", Math.Log(risks.Events / expected), error / mean, level: level);
    }

    /// <summary>Estimates intercept and slope.</summary>
    /// <param name="risks">Predicted risks and what happened.</param>
    /// <param name="level">Level of confidence.</param>
    /// <param name="variance">Cluster-robust variance; null for the default of <see cref="LogisticRegression"/>.</param>
    /// <exception cref="InvalidInputError">A risk of exactly 0 or 1.</exception>
    /// <exception cref="SeparationError">The risks separate the outcome.</exception>
    public static CalibrationEstimate Estimate(PredictedRisks risks, double level = ConfidenceInterval.DefaultLevel, ClusterVariance? variance = null)
    {
        Require.Probability(level, nameof(level));
        double[] logit = new double[risks.Rows];
        double[] outcome = new double[risks.Rows];
        double expected = 0;
        for (int i = 0; i < logit.Length; i++)
        {
            double p = risks.Risk[i];
            if (p is 0 or 1)
                throw new InvalidInputError($"a predicted risk of {p} in row {i} has no log odds", "A model that is certain cannot be recalibrated; look at this row.", i, "risk");
            logit[i] = Math.Log(p) - Math.Log(1 - p);
            outcome[i] = risks.Outcome[i] ? 1 : 0;
            expected += p;
        }
        Clusters? clusters = risks.Clusters.Count == risks.Rows ? null : risks.Clusters;
        GeneralizedLinearOptions options = GeneralizedLinearOptions.Default with { Variance = variance };
        GeneralizedLinearFit shift = LogisticRegression.Fit(DesignMatrix.InterceptOnly(risks.Rows), outcome, clusters, options, offset: logit);
        GeneralizedLinearFit line = LogisticRegression.Fit(DesignMatrix.WithIntercept((LogOdds, logit)), outcome, clusters, options);
        return new CalibrationEstimate(
            risks.Events / expected,
            shift.Coefficients.Estimate(0, level) with { Term = "calibration intercept" },
            line.Coefficients.Estimate(1, level) with { Term = "calibration slope" });
    }
}
