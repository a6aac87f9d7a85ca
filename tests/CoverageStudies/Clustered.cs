using RotationStudy.Statistics;
using RotationStudy.Statistics.Clustered;

namespace RotationStudy.CoverageStudies;

/// <summary>Generalised estimating equations on two knees per person: does the 95% interval of a marginal effect hold the truth?</summary>
/// <remarks>
/// Exposure = half of the person, half of the knee (standard normal together), beside sex, a property of the person. Binary: log odds with
/// slope 0.5, sex 0.3; the two knees' outcomes have correlation 0.3 given the exposures, drawn from their joint
/// probabilities. Counts: rate ratio exp(0.5), follow-up of 1 to 5 years, a gamma frailty of variance 0.5 shared by the knees.
/// </remarks>
internal static class Clustered
{
    private const double Slope = 0.5;
    private const double Sex = 0.3;
    private const double Correlation = 0.3;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (SandwichCorrection correction in new[] { SandwichCorrection.None, SandwichCorrection.FayGraubard, SandwichCorrection.KauermannCarroll, SandwichCorrection.ManclDeRouen })
        {
            foreach (int persons in new[] { 30, 50, 200 })
            {
                studies.Add(new CoverageStudy($"GEE logit, {correction}, 30% events, exposure", persons, Slope, r => Binary(r, persons, -0.85, correction, "exposure")));
                studies.Add(new CoverageStudy($"GEE logit, {correction}, 30% events, sex", persons, Sex, r => Binary(r, persons, -0.85, correction, "female")));
            }
        }
        foreach (SandwichCorrection correction in new[] { SandwichCorrection.None, SandwichCorrection.ManclDeRouen })
        {
            foreach (int persons in new[] { 30, 50, 200 })
                studies.Add(new CoverageStudy($"GEE Poisson rate, {correction}, exposure", persons, Slope, r => Count(r, persons, correction)));
            studies.Add(new CoverageStudy($"GEE logit, {correction}, 10% events, exposure", 200, Slope, r => Binary(r, 200, -2.45, correction, "exposure")));
        }
        studies.Add(new CoverageStudy("GEE Poisson rate, default, exposure", 1000, Slope, r => Count(r, 1000, SandwichCorrection.Automatic)));
        studies.Add(new CoverageStudy("GEE logit, default, 10% events, exposure", 1000, Slope, r => Binary(r, 1000, -2.45, SandwichCorrection.Automatic, "exposure")));
        studies.Add(new CoverageStudy("GEE logit, default, 30% events, exposure", 1000, Slope, r => Binary(r, 1000, -0.85, SandwichCorrection.Automatic, "exposure")));
        return studies;
    }

    private static Estimate Binary(Random random, int persons, double intercept, SandwichCorrection correction, string term)
    {
        (double[] exposure, double[] female, int[] person) = Cohort(random, persons);
        double[] y = new double[2 * persons];
        for (int i = 0; i < y.Length; i += 2)
        {
            double first = Probability(intercept + (Slope * exposure[i]) + (Sex * female[i]));
            double second = Probability(intercept + (Slope * exposure[i + 1]) + (Sex * female[i]));
            double both = (first * second) + (Correlation * Math.Sqrt(first * (1 - first) * second * (1 - second)));
            both = Math.Min(both, Math.Min(first, second));
            y[i] = random.NextDouble() < first ? 1 : 0;
            y[i + 1] = random.NextDouble() < (y[i] > 0 ? both / first : (second - both) / (1 - first)) ? 1 : 0;
        }
        return GeneralizedEstimatingEquations.Fit(
            DesignMatrix.WithIntercept(("exposure", exposure), ("female", female)),
            y,
            Clusters.From(person),
            MarginalFamily.Binomial,
            options: new GeneralizedEstimatingEquationsOptions { Correction = correction }).Coefficients.Estimate(term);
    }

    private static Estimate Count(Random random, int persons, SandwichCorrection correction)
    {
        (double[] exposure, double[] female, int[] person) = Cohort(random, persons);
        double[] y = new double[2 * persons];
        double[] logYears = new double[2 * persons];
        for (int i = 0; i < y.Length; i += 2)
        {
            // A gamma frailty of shape 2 and mean one: half the sum of two exponentials.
            double frailty = -0.5 * Math.Log((1 - random.NextDouble()) * (1 - random.NextDouble()));
            double years = 1 + (4 * random.NextDouble());
            for (int k = i; k < i + 2; k++)
            {
                logYears[k] = Math.Log(years);
                double mean = 0.15 * years * frailty * Math.Exp((Slope * exposure[k]) + (Sex * female[k]));
                double left = Math.Exp(-mean);
                for (double product = random.NextDouble(); product > left; product *= random.NextDouble())
                    y[k]++;
            }
        }
        return GeneralizedEstimatingEquations.Fit(
            DesignMatrix.WithIntercept(("exposure", exposure), ("female", female)),
            y,
            Clusters.From(person),
            MarginalFamily.Poisson,
            logYears,
            new GeneralizedEstimatingEquationsOptions { Correction = correction }).Coefficients.Estimate("exposure");
    }

    private static (double[] Exposure, double[] Female, int[] Person) Cohort(Random random, int persons)
    {
        double[] exposure = new double[2 * persons];
        double[] female = new double[2 * persons];
        int[] person = new int[2 * persons];
        for (int i = 0; i < persons; i++)
        {
            double shared = Normal(random);
            double sex = random.Next(2);
            for (int k = 2 * i; k < (2 * i) + 2; k++)
            {
                person[k] = i;
                female[k] = sex;
                exposure[k] = Math.Sqrt(0.5) * (shared + Normal(random));
            }
        }
        return (exposure, female, person);
    }

    private static double Probability(double logOdds) => 1 / (1 + Math.Exp(-logOdds));

    private static double Normal(Random random)
        => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
