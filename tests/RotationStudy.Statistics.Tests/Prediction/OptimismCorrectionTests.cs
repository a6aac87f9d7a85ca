using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Prediction;

public class OptimismCorrectionTests
{
    [Fact]
    public void The_optimism_is_the_mean_difference_between_resample_and_original()
    {
        // The "model" is the mean; judged by minus its squared error. On itself: minus the variance of the resample; on the original rows more.
        double[] values = [1, 2, 4, 7, 11, 16];
        Clusters clusters = Clusters.EachRow(6);
        List<double> differences = [];
        CorrectedPerformance found = OptimismCorrection.Estimate(["fit"], clusters, resample =>
        {
            double mean = Mean(resample.Rows, values);
            double itself = -Mean(resample.Rows, [.. values.Select(v => (v - mean) * (v - mean))]);
            double original = -values.Average(v => (v - mean) * (v - mean));
            lock (differences)
                differences.Add(itself - original);
            return ([itself], [original]);
        }, new BootstrapOptions { Replicates = 50, Seed = 4 });
        // The first call judges the original rows themselves, where both agree.
        Assert.Equal(51, differences.Count);
        Close.Relative(differences.Sum() / 50, found["fit"].Optimism, 1e-10);
        Close.Relative(-values.Average(v => Math.Pow(v - values.Average(), 2)), found["fit"].Apparent, 1e-12);
        Assert.True(found["fit"].Corrected < found["fit"].Apparent);
        Assert.Contains("there are fit", Assert.Throws<InvalidInputError>(() => found["area"]).Hint, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void Models_of_noise_look_good_and_are_corrected_to_none_on_average()
    {
        // Twelve sets of 120 rows and 8 columns of noise, no penalty to speak of. One corrected area varies by about 0.05 around one half.
        double apparent = 0;
        double corrected = 0;
        for (int set = 0; set < 12; set++)
        {
            CorrectedMeasure area = OfNoise(set);
            apparent += area.Apparent / 12;
            corrected += area.Corrected / 12;
        }
        Assert.InRange(apparent, 0.6, 0.75);
        Assert.InRange(corrected, 0.45, 0.56);
    }

    private static CorrectedMeasure OfNoise(int set)
    {
        RandomStream random = new(23, "optimism", set);
        DesignMatrix x = DesignMatrix.FromColumns([.. Enumerable.Range(0, 8).Select(j => ($"x{j}", (IReadOnlyList<double>)[.. Enumerable.Range(0, 120).Select(_ => random.Normal())]))]);
        double[] y = [.. Enumerable.Range(0, 120).Select(_ => random.Bernoulli(0.4) ? 1.0 : 0.0)];
        bool[] happened = [.. y.Select(v => v == 1)];
        return OptimismCorrection.Estimate(["area"], Clusters.EachRow(120), resample =>
        {
            int[] rows = resample.Rows.ToArray();
            DesignMatrix own = x.SelectRows(rows);
            PenalizedFit fit = PenalizedLogisticRegression.Fit(own, [.. rows.Select(r => y[r])], CoefficientPenalty.Ridge, 1e-4);
            return ([AreaUnderCurve.Estimate([.. rows.Select(r => happened[r])], fit.LogOdds(own)).Value], [AreaUnderCurve.Estimate(happened, fit.LogOdds(x)).Value]);
        }, new BootstrapOptions { Replicates = 60, Seed = 9 })["area"];
    }

    private static double Mean(ReadOnlySpan<int> rows, double[] values)
    {
        double sum = 0;
        foreach (int r in rows)
            sum += values[r];
        return sum / rows.Length;
    }
}
