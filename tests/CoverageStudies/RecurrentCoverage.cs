using RotationStudy.Statistics;
using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.CoverageStudies;

/// <summary>Event rates and mean numbers of events with gamma frailties of persons and of their sides.</summary>
/// <remarks>Given the frailties events are a Poisson process of rate exp(x beta) per year, followed for 1 to 3 years: the marginal rate is the same.</remarks>
internal static class RecurrentCoverage
{
    private const double Beta = 0.5;

    private static readonly int[] Sizes = [30, 50, 200, 1000];

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in Sizes)
        {
            foreach (CoxClusterVariance variance in Enum.GetValues<CoxClusterVariance>())
            {
                studies.Add(Rate("covariate of the side", persons, shared: false, variance));
                studies.Add(Rate("covariate of the person", persons, shared: true, variance));
            }
            studies.Add(Mean(persons));
        }
        return studies;
    }

    private static CoverageStudy Rate(string column, int persons, bool shared, CoxClusterVariance variance)
        => new($"Andersen-Gill log rate ratio, {column}, {variance}", persons, Beta, random =>
        {
            (RecurrentEvents events, double[] x, Clusters clusters) = Draw(random, persons, Beta, shared);
            CoxFit fit = LinWeiYangYing.Fit(events, DesignMatrix.FromColumns(("x", x)), clusters, new CoxOptions { ClusterVariance = variance });
            return fit.Coefficients.Estimate(0);
        });

    private static CoverageStudy Mean(int persons)
        => new("mean cumulative function at 1 year, log interval", persons, 0.5, random =>
        {
            (RecurrentEvents events, _, Clusters clusters) = Draw(random, persons, 0, shared: false);
            MeanStep step = MeanCumulativeFunction.Estimate(events, clusters).At(1);
            return new Estimate("mean", step.Mean, step.StandardError, double.PositiveInfinity, step.Interval, 1);
        });

    private static (RecurrentEvents Events, double[] X, Clusters Persons) Draw(Random random, int persons, double beta, bool shared)
    {
        const double Base = 0.5;
        UnitHistory[] histories = new UnitHistory[2 * persons];
        double[] x = new double[2 * persons];
        int[] person = new int[2 * persons];
        for (int i = 0; i < persons; i++)
        {
            double ofPerson = PairedSurvival.MeanOneGamma(random, 1.5);
            double common = PairedSurvival.Normal(random);
            for (int side = 0; side < 2; side++)
            {
                int unit = (2 * i) + side;
                person[unit] = i;
                x[unit] = shared ? common : PairedSurvival.Normal(random);
                double rate = Base * ofPerson * PairedSurvival.MeanOneGamma(random, 3) * Math.Exp(beta * x[unit]);
                double end = 1 + (2 * random.NextDouble());
                List<double> times = [];
                for (double t = Exponential(random, rate); t < end; t += Exponential(random, rate))
                    times.Add(t);
                histories[unit] = new UnitHistory(0, end, times);
            }
        }
        return (new RecurrentEvents(histories), x, Clusters.From(person));
    }

    private static double Exponential(Random random, double rate) => -Math.Log(1 - random.NextDouble()) / rate;
}
