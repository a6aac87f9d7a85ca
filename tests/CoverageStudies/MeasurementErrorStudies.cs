using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Coefficients of an exposure read with error, as fitted and as corrected by regression calibration.</summary>
/// <remarks>
/// Two knees of a person; true exposure with variance 1, half of it shared; another term correlated 0.4 with it. The exposure
/// is read with error variance 0.4; the error is known from a reliability study of its own, each person with both knees read
/// twice. Truth: 0.5 per unit of the true exposure, for ratios on the log scale.
/// </remarks>
internal static class MeasurementErrorStudies
{
    private const double Truth = 0.5;
    private const double ErrorVariance = 0.4;

    private enum Outcome
    {
        Mean,
        Odds,
        Rate,
    }

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in new[] { 100, 400 })
        {
            foreach (Outcome outcome in Enum.GetValues<Outcome>())
            {
                string name = outcome switch { Outcome.Mean => "mean", Outcome.Odds => "odds, 20% events", _ => "rate" };
                studies.Add(new($"{name}, as fitted", persons, Truth, r => Fit(r, outcome, persons, 0, Truth)));
                studies.Add(new($"{name}, corrected, error from 40 persons", persons, Truth, r => Fit(r, outcome, persons, 40, Truth)));
            }
            studies.Add(new("mean, corrected, error from 10 persons", persons, Truth, r => Fit(r, Outcome.Mean, persons, 10, Truth)));
            studies.Add(new("mean, corrected, no association", persons, 0, r => Fit(r, Outcome.Mean, persons, 40, 0)));
            studies.Add(new("odds, corrected, no association", persons, 0, r => Fit(r, Outcome.Odds, persons, 40, 0)));
        }
        return studies;
    }

    private static Estimate Fit(Random random, Outcome outcome, int persons, int reliability, double truth)
    {
        RandomStream stream = new((ulong)random.NextInt64(), "measurement error");
        int n = 2 * persons;
        double[] w = new double[n], z = new double[n], y = new double[n];
        for (int p = 0; p < persons; p++)
        {
            double shared = Math.Sqrt(0.5) * stream.Normal();
            double lasting = Math.Sqrt(0.3) * stream.Normal();
            for (int i = 2 * p; i < (2 * p) + 2; i++)
            {
                double x = shared + (Math.Sqrt(0.5) * stream.Normal());
                z[i] = (0.4 * x) + (Math.Sqrt(1 - 0.16) * stream.Normal());
                w[i] = x + (Math.Sqrt(ErrorVariance) * stream.Normal());
                double line = (truth * x) + (0.3 * z[i]);
                y[i] = outcome switch
                {
                    Outcome.Mean => line + lasting + stream.Normal(),
                    Outcome.Odds => stream.Bernoulli(1 / (1 + Math.Exp(1.5 - line))) ? 1 : 0,
                    _ => stream.Poisson(Math.Exp(line - 0.5)),
                };
            }
        }
        Clusters clusters = Clusters.From(Enumerable.Range(0, n).Select(i => i / 2).ToArray());
        DesignMatrix design = DesignMatrix.FromColumns(("w", w), ("z", z));
        DesignMatrix full = DesignMatrix.WithIntercept(("w", w), ("z", z));
        Coefficients fitted = outcome switch
        {
            Outcome.Mean => LinearRegression.Fit(full, y).ClusterRobust(clusters),
            Outcome.Odds => LogisticRegression.Fit(full, y.AsSpan(), clusters).Coefficients,
            _ => PoissonRegression.Fit(full, y.AsSpan(), default, clusters).Coefficients,
        };
        if (reliability == 0)
            return fitted.Estimate("w");
        WithinSubjectEstimate error = Reliability(stream, reliability);
        return RegressionCalibration.Correct(fitted, design, clusters, [new ColumnError("w", error.Variance, error.DegreesOfFreedom)]).Corrected.Estimate("w");
    }

    private static WithinSubjectEstimate Reliability(RandomStream stream, int persons)
    {
        double[] readings = new double[4 * persons];
        for (int i = 0; i < readings.Length; i += 2)
        {
            double x = stream.Normal();
            readings[i] = x + (Math.Sqrt(ErrorVariance) * stream.Normal());
            readings[i + 1] = x + (Math.Sqrt(ErrorVariance) * stream.Normal());
        }
        return WithinSubjectVariance.Estimate(
            readings, Clusters.From(Enumerable.Range(0, readings.Length).Select(i => i / 2).ToArray()), Clusters.From(Enumerable.Range(0, readings.Length).Select(i => i / 4).ToArray()));
    }
}
