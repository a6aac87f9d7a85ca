using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>The time scale on which a changing hazard ratio is looked for.</summary>
public enum TimeTransform
{
    /// <summary>1 - S(t-), the Kaplan-Meier estimate of all rows: robust against late outlying times.</summary>
    KaplanMeier,

    /// <summary>Time itself.</summary>
    Identity,

    /// <summary>Log of time.</summary>
    Log,

    /// <summary>Rank among the times at which follow-up ended, by the event or not; equal times share the mean rank.</summary>
    Rank,
}

/// <summary>Result of a test of proportional hazards.</summary>
/// <param name="ByColumn">One test per column of the model, in its order.</param>
/// <param name="Global">All columns together.</param>
/// <param name="Transform">Time scale used.</param>
/// <param name="VarianceMethod">How the variance was reached.</param>
public sealed record ProportionalHazardsResult(IReadOnlyList<(string Term, TestResult Test)> ByColumn, TestResult Global, TimeTransform Transform, string VarianceMethod);

/// <summary>Does the hazard ratio of a column change over time? The score test of an interaction between column and time.</summary>
/// <remarks>
/// The model is extended by x g(t), g a transform of time, and the score of the new coefficients is tested at zero with all
/// coefficients of the fit left free. It is the test of Grambsch and Therneau (1994) with the variance of each risk set in
/// place of their average, so that it is an honest score test; older libraries print the averaged form. The result
/// depends on g, and a small p value may come from a few outlying times: look at the scaled Schoenfeld residuals.
/// <para>With clusters the variance is the sum of squared cluster influences (robust score test): events of one cluster may be
/// dependent. Strata share g, as the transforms use the times of all rows. Cost O(n p^2).</para>
/// <para><b>Sources</b>: Grambsch PM and Therneau TM, Biometrika 1994;81:515-526. Lin DY and Wei LJ, J Am Stat Assoc 1989;84:1074-1078 (robust score test).</para>
/// <para><b>Checked against</b>: Survival/gehan_6mp, Survival/veteran, Survival/clustered_delayed, Peers/tight_300.</para>
/// </remarks>
public static class ProportionalHazardsTest
{
    /// <summary>Tests each column and all together.</summary>
    /// <param name="fit">A fit with Efron's or Breslow's ties; its clusters, if any, make the test cluster-robust.</param>
    /// <param name="transform">Time scale.</param>
    /// <exception cref="InvalidInputError">The fit used exact discrete ties, or log of a time of zero or less.</exception>
    /// <exception cref="TooFewDataError">All events happened at one time, or there are too few clusters for the columns.</exception>
    public static ProportionalHazardsResult Test(CoxFit fit, TimeTransform transform = TimeTransform.KaplanMeier)
    {
        CoxPartialLikelihood likelihood = fit.RequireLikelihood("tests of proportional hazards");
        int p = fit.ModelCovariance.Size;
        double[] g = Transformed(fit, likelihood.Sets, transform);
        double[] score = Score(likelihood, g);
        double[] variance = fit.ClusterRows is null ? EfficientInformation(fit, likelihood, g, p) : RobustVariance(fit, likelihood, g, p);
        (string, TestResult)[] columns = new (string, TestResult)[p];
        for (int j = 0; j < p; j++)
            columns[j] = (fit.Coefficients.Terms[j], ChiSquare(score[j] * score[j] / Positive(variance[(j * p) + j]), 1));
        double[] solved;
        try
        {
            solved = SmallCholesky.Factor(variance, p, fit.Coefficients.Terms).Solve(score);
        }
        catch (RankDeficientError)
        {
            throw new TooFewDataError("the columns cannot be tested together for proportional hazards", "There are too few event times or clusters for so many columns.");
        }
        string method = fit.ClusterRows is null ? "information at the estimate" : "cluster-robust";
        return new ProportionalHazardsResult(columns, ChiSquare(CrossProduct.Dot(score, solved), p), transform, method);
    }

    private static double Positive(double variance)
        => variance > 0 ? variance : throw new TooFewDataError("all events happened at one time", "A change over time needs events at several times.");

    private static TestResult ChiSquare(double statistic, int df)
        => new("score", statistic, df, double.PositiveInfinity, ChiSquared.UpperTail(statistic, df));

    // g at every moment, centred over events so that the information does not cancel.
    private static double[] Transformed(CoxFit fit, RiskSets sets, TimeTransform transform)
    {
        RiskSets all = sets.Strata == 1 ? sets : RiskSets.Build(fit.Times);
        Dictionary<double, double> value = [];
        double survival = 1;
        int before = 0;
        for (int m = all.Moments - 2; m >= 0; m--)
        {
            double time = all.Time[m];
            int d = all.EventCount[m];
            value[time] = transform switch
            {
                TimeTransform.KaplanMeier => 1 - survival,
                TimeTransform.Identity => time,
                TimeTransform.Rank => MeanRank(all, fit.Times, m),
                _ => time > 0 ? Math.Log(time) : throw new InvalidInputError($"an event at time {time} has no log", "Use another transform of time."),
            };
            survival *= 1 - ((double)d / all.AtRisk(m));
            before += d;
        }
        double sum = 0;
        for (int m = 0; m < sets.Moments; m++)
            sum += sets.EventCount[m] == 0 ? 0 : sets.EventCount[m] * value[sets.Time[m]];
        double[] g = new double[sets.Moments];
        for (int m = 0; m < sets.Moments; m++)
            g[m] = sets.EventCount[m] == 0 ? 0 : value[sets.Time[m]] - (sum / before);
        return g;
    }

    private static double MeanRank(RiskSets all, SurvivalTimes times, int moment)
    {
        int end = all.AtRiskEnd[moment];
        int first = end;
        while (first > 0 && times.Exit[all.Row[first - 1]] == all.Time[moment])
            first--;
        return all.Rows - end + ((end - first + 1) / 2.0);
    }

    private static double[] Score(CoxPartialLikelihood likelihood, double[] g)
    {
        double[] residuals = CoxScoreResiduals.Weighted(likelihood, g);
        int n = likelihood.Sets.Rows;
        double[] score = new double[residuals.Length / n];
        for (int j = 0; j < score.Length; j++)
        {
            for (int q = 0; q < n; q++)
                score[j] += residuals[(j * n) + q];
        }
        return score;
    }

    // Information of the new coefficients given the old ones: I_gg - I_gb I_bb^-1 I_bg.
    private static double[] EfficientInformation(CoxFit fit, CoxPartialLikelihood likelihood, double[] g, int p)
    {
        double[] squared = [.. g.Select(v => v * v)];
        double[] cross = new double[p * p];
        double[] own = new double[p * p];
        likelihood.WeightedInformation(g, cross);
        likelihood.WeightedInformation(squared, own);
        double[] explained = CoxClusterCovariance.Product(CoxClusterCovariance.Product(cross, fit.ModelCovariance.Values, p), cross, p);
        for (int i = 0; i < own.Length; i++)
            own[i] -= explained[i];
        return own;
    }

    // Sum of squares of L_g - I_gb I_bb^-1 L_b over clusters.
    private static double[] RobustVariance(CoxFit fit, CoxPartialLikelihood likelihood, double[] g, int p)
    {
        double[] cross = new double[p * p];
        likelihood.WeightedInformation(g, cross);
        double[] slope = CoxClusterCovariance.Product(cross, fit.ModelCovariance.Values, p);
        int[] row = likelihood.Sets.Row;
        double[] ofScore = CoxClusterCovariance.SumByCluster(CoxScoreResiduals.Weighted(likelihood), p, row, fit.ClusterRows!);
        double[] ofTime = CoxClusterCovariance.SumByCluster(CoxScoreResiduals.Weighted(likelihood, g), p, row, fit.ClusterRows!);
        for (int c = 0; c < fit.ClusterRows!.Count; c++)
        {
            for (int i = 0; i < p; i++)
            {
                for (int k = 0; k < p; k++)
                    ofTime[(c * p) + i] -= slope[(i * p) + k] * ofScore[(c * p) + k];
            }
        }
        return GroupDifferences.SumOfSquares(ofTime, p);
    }
}
