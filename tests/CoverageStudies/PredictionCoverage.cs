using RotationStudy.Statistics;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Whether performance corrected for optimism is that on new persons: the true value on 4000 new persons is taken off, so that the truth is zero.</summary>
/// <remarks>Two knees per person share an effect of the person. Eight columns, of which three matter (log odds 0.6 each) or none does; a third has the event.</remarks>
internal static class PredictionCoverage
{
    private const int Columns = 8;
    private const int NewPersons = 4000;
    private const int Resamples = 40;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in new[] { 60, 200 })
        {
            foreach (double effect in new[] { 0, 0.6 })
            {
                string words = effect == 0 ? "nothing matters" : "three columns matter";
                studies.Add(new($"area, apparent less true, ridge; {words}", persons, 0, r => Area(r, persons, effect, corrected: false)));
                studies.Add(new($"area, corrected less true, ridge; {words}", persons, 0, r => Area(r, persons, effect, corrected: true)));
            }
        }
        return studies;
    }

    private static Estimate Area(Random random, int persons, double effect, bool corrected)
    {
        RandomStream stream = new((ulong)random.NextInt64(), "prediction");
        (DesignMatrix x, double[] y, Clusters clusters) = Draw(stream, persons, effect);
        (DesignMatrix others, double[] happened, _) = Draw(stream, NewPersons, effect);
        PenalizedFit Develop(DesignMatrix columns, double[] outcome, Clusters people, long index)
            => CrossValidatedPenalty.Choose(columns, outcome, people, CoefficientPenalty.Ridge, 5, new RandomStream(1, "folds", index), 15).Fit;
        PenalizedFit fit = Develop(x, y, clusters, 0);
        double truth = AreaUnderCurve.Estimate(Yes(happened), fit.LogOdds(others)).Value;
        AreaEstimate apparent = AreaUnderCurve.Estimate(Yes(y), fit.LogOdds(x), clusters);
        double optimism = 0;
        if (corrected)
        {
            optimism = OptimismCorrection.Estimate(["area"], clusters, resample =>
            {
                int[] rows = resample.Rows.ToArray();
                DesignMatrix own = x.SelectRows(rows);
                double[] outcome = [.. rows.Select(r => y[r])];
                PenalizedFit again = Develop(own, outcome, clusters.SelectRows(rows), resample.TimesDrawn[0] + (10L * rows[0]));
                return ([AreaUnderCurve.Estimate(Yes(outcome), again.LogOdds(own)).Value], [AreaUnderCurve.Estimate(Yes(y), again.LogOdds(x)).Value]);
            }, new BootstrapOptions { Replicates = Resamples, Seed = (ulong)random.NextInt64(), Threads = 1 })["area"].Optimism;
        }
        double shift = optimism + truth;
        return new Estimate(
            "area", apparent.Value - shift, double.NaN, double.PositiveInfinity,
            new ConfidenceInterval(apparent.Interval.Lower - shift, apparent.Interval.Upper - shift, apparent.Interval.Level), 1);
    }

    private static bool[] Yes(double[] outcome) => [.. outcome.Select(v => v > 0)];

    private static (DesignMatrix X, double[] Y, Clusters Clusters) Draw(RandomStream random, int persons, double effect)
    {
        double[][] columns = [.. Enumerable.Range(0, Columns).Select(_ => new double[2 * persons])];
        double[] y = new double[2 * persons];
        double person = 0;
        for (int row = 0; row < y.Length; row++)
        {
            if (row % 2 == 0)
                person = 0.7 * random.Normal();
            double eta = -0.8 + person;
            for (int j = 0; j < Columns; j++)
            {
                columns[j][row] = random.Normal();
                eta += j < 3 ? effect * columns[j][row] : 0;
            }
            y[row] = random.Bernoulli(1 / (1 + Math.Exp(-eta))) ? 1 : 0;
        }
        return (
            DesignMatrix.FromColumns([.. columns.Select((c, j) => ($"x{j}", (IReadOnlyList<double>)c))]), y,
            Clusters.From([.. Enumerable.Range(0, 2 * persons).Select(r => r / 2)]));
    }
}
