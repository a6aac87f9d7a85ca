using RotationStudy.Statistics;
using RotationStudy.Statistics.Mixed;

namespace RotationStudy.CoverageStudies;

/// <summary>Mixed models on two knees per person: do the 95% intervals hold the truth?</summary>
/// <remarks>
/// Linear: three visits of both knees, a random intercept and slope per person (variances 1 and 0.25, correlation 0.3), a random intercept per knee
/// (0.5), residual variance 1, a fifth of the rows missing; the truth is the slope in time (0.3) or the effect of a property of the
/// person (0.4). Logistic: two knees per person, random intercept of standard deviation 1, slope 0.5 of an
/// exposure that is half of the person and half of the knee, about 30% events.
/// </remarks>
internal static class Mixed
{
    private const double Slope = 0.3;
    private const double OfPerson = 0.4;
    private const double LogOdds = 0.5;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (FixedEffectDegreesOfFreedom df in new[] { FixedEffectDegreesOfFreedom.Normal, FixedEffectDegreesOfFreedom.Satterthwaite, FixedEffectDegreesOfFreedom.KenwardRoger })
        {
            foreach (int persons in new[] { 10, 30, 200 })
            {
                studies.Add(new CoverageStudy($"linear mixed, {df}, slope in time", persons, Slope, r => Linear(r, persons, df, "years")));
                studies.Add(new CoverageStudy($"linear mixed, {df}, property of the person", persons, OfPerson, r => Linear(r, persons, df, "exposed")));
            }
        }
        foreach (int persons in new[] { 100, 200, 1000 })
            studies.Add(new CoverageStudy("logistic mixed, 10 quadrature points, exposure", persons, LogOdds, r => Logistic(r, persons)));
        return studies;
    }

    private static Estimate Linear(Random random, int persons, FixedEffectDegreesOfFreedom df, string term)
    {
        List<double> y = [];
        List<double> years = [];
        List<double> exposed = [];
        List<int> person = [];
        List<int> knee = [];
        for (int i = 0; i < persons; i++)
        {
            double level = Normal(random);
            double trend = 0.5 * ((0.3 * level) + (Math.Sqrt(1 - 0.09) * Normal(random)));
            double group = i % 2;
            for (int side = 0; side < 2; side++)
            {
                double own = Math.Sqrt(0.5) * Normal(random);
                for (int visit = 0; visit < 3; visit++)
                {
                    double value = 10 + (Slope * visit) + (OfPerson * group) + level + (trend * visit) + own + Normal(random);
                    if (random.NextDouble() < 0.2)
                        continue;
                    y.Add(value);
                    years.Add(visit);
                    exposed.Add(group);
                    person.Add(i);
                    knee.Add((2 * i) + side);
                }
            }
        }
        RandomTerm[] terms = [new("person", Clusters.From(person), DesignMatrix.WithIntercept(("years", years))), new("knee", Clusters.From(knee))];
        return LinearMixedModel.Fit(
            DesignMatrix.WithIntercept(("years", years), ("exposed", exposed)), y, terms, new LinearMixedModelOptions { DegreesOfFreedom = df }).Coefficients.Estimate(term);
    }

    private static Estimate Logistic(Random random, int persons)
    {
        double[] exposure = new double[2 * persons];
        double[] y = new double[2 * persons];
        int[] person = new int[2 * persons];
        for (int i = 0; i < persons; i++)
        {
            double effect = Normal(random);
            double shared = Normal(random);
            for (int k = 2 * i; k < (2 * i) + 2; k++)
            {
                person[k] = i;
                exposure[k] = Math.Sqrt(0.5) * (shared + Normal(random));
                y[k] = random.NextDouble() < 1 / (1 + Math.Exp(1 - (LogOdds * exposure[k]) - effect)) ? 1 : 0;
            }
        }
        return GeneralizedLinearMixedModel.Fit(DesignMatrix.WithIntercept(("exposure", exposure)), y, Clusters.From(person), MixedOutcome.Binary).Coefficients.Estimate("exposure");
    }

    private static double Normal(Random random)
        => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
