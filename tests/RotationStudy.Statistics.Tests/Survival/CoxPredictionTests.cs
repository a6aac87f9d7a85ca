using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class CoxPredictionTests
{
    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;

    [Theory]
    [InlineData("cox_efron", TiesMethod.Efron)]
    [InlineData("cox_breslow", TiesMethod.Breslow)]
    public void Curves_and_intervals_agree_with_the_reference(string name, TiesMethod ties)
    {
        CoxFit fit = CoxRegression.Fit(Data.Delayed, Data.X, options: new() { Ties = ties });
        double[] time = Data.Numbers($"cases/{name}/pred/time");
        for (int k = 0; k < 2; k++)
        {
            SurvivalCurve curve = CoxPrediction.Survival(fit, [k, k]);
            for (int i = 0; i < time.Length; i++)
            {
                SurvivalStep step = curve.At(time[i]);
                Close.Relative(Data.Case.Number($"cases/{name}/pred/surv/{i}/{k}"), step.Survival, 1e-8);
                Close.Relative(Data.Case.Number($"cases/{name}/pred/se_cumhaz/{i}/{k}"), step.StandardError / step.Survival, 1e-8);
                Close.Relative(Data.Case.Number($"cases/{name}/pred/lower/{i}/{k}"), step.Interval.Lower, 1e-8);
                Close.Relative(Data.Case.Number($"cases/{name}/pred/upper/{i}/{k}"), step.Interval.Upper, 1e-8);
            }
        }
    }

    [Theory]
    [InlineData("cox_efron")]
    [InlineData("cox_breslow_weights_cluster")]
    [InlineData("cox_efron_weights_cluster")]
    public void Baseline_hazards_agree_with_the_reference(string name)
    {
        bool weighted = name.Contains("weights", StringComparison.Ordinal);
        TiesMethod ties = name.Contains("breslow", StringComparison.Ordinal) ? TiesMethod.Breslow : TiesMethod.Efron;
        CoxFit fit = CoxRegression.Fit(Data.Delayed, Data.X, weights: weighted ? Data.Weights : null, options: new() { Ties = ties });
        double[] time = Data.Numbers($"cases/{name}/base/time");
        IReadOnlyList<(double Time, double CumulativeHazard)> found = CoxPrediction.BaselineHazard(fit);
        for (int i = 0; i < time.Length; i++)
            Close.Relative(Data.Case.Number($"cases/{name}/base/hazard/{i}"), found.Last(f => f.Time <= time[i]).CumulativeHazard, 1e-8);
    }

    [Fact]
    public void Strata_have_their_own_baseline()
    {
        CoxFit fit = CoxRegression.Fit(Data.Delayed, Data.X, strata: Data.Sites);
        string[] stratum = [.. Data.Case.Element("cases/cox_efron_strata_cluster/base/strata").EnumerateArray().Select(e => e.GetString()!)];
        double[] time = Data.Numbers("cases/cox_efron_strata_cluster/base/time");
        string first = Data.Case.Text("site")[0];
        for (int i = 0; i < time.Length; i++)
        {
            IReadOnlyList<(double Time, double CumulativeHazard)> found = CoxPrediction.BaselineHazard(fit, stratum[i] == first ? 0 : 1);
            double hazard = found.LastOrDefault(f => f.Time <= time[i]).CumulativeHazard;
            Close.Relative(Data.Case.Number($"cases/cox_efron_strata_cluster/base/hazard/{i}"), hazard, 1e-8);
        }
        Assert.Contains("no stratum 2", Assert.Throws<InvalidInputError>(() => CoxPrediction.BaselineHazard(fit, 2)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(TiesMethod.Efron, false)]
    [InlineData(TiesMethod.Breslow, true)]
    public void The_clustered_error_is_the_derivative_with_respect_to_cluster_weights(TiesMethod ties, bool stratified)
    {
        // Infinitesimal jackknife by numerical differentiation: weights of one cluster at a time moved by a little.
        const double H = 1e-4;
        Clusters? strata = stratified ? Data.Sites : null;
        double[] x = [0.5, 1];
        CoxOptions options = new() { Ties = ties };
        SurvivalCurve curve = CoxPrediction.Survival(CoxRegression.Fit(Data.Delayed, Data.X, Data.Clusters, strata, options: options), x);
        double[] Hazard(int cluster, double change)
        {
            double[] weights = [.. Enumerable.Range(0, Data.Delayed.Rows).Select(i => Data.Clusters.ClusterOfRow[i] == cluster ? 1 + change : 1)];
            SurvivalCurve moved = CoxPrediction.Survival(CoxRegression.Fit(Data.Delayed, Data.X, strata: strata, weights: weights, options: options), x);
            return [.. moved.Steps.Select(s => -Math.Log(s.Survival))];
        }
        double[] variance = new double[curve.Steps.Count];
        for (int g = 0; g < Data.Clusters.Count; g++)
        {
            double[] up = Hazard(g, H);
            double[] down = Hazard(g, -H);
            for (int i = 0; i < variance.Length; i++)
                variance[i] += Math.Pow((up[i] - down[i]) / (2 * H), 2);
        }
        for (int i = 0; i < variance.Length; i++)
            Close.Relative(Math.Sqrt(variance[i]), curve.Steps[i].StandardError / curve.Steps[i].Survival, 1e-6);
    }

    [Fact]
    public void Another_number_of_covariates_is_refused()
    {
        CoxFit fit = CoxRegression.Fit(Data.Delayed, Data.X);
        Assert.Throws<InvalidInputError>(() => CoxPrediction.Survival(fit, [1]));
        Assert.Throws<InvalidInputError>(() => CoxPrediction.Survival(fit, [1, double.NaN]));
    }
}
