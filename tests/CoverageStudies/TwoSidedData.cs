using RotationStudy.Statistics;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Persons with two sides: a measure that differs between the sides, a person's own yes or no, and outcomes that are dependent within persons.</summary>
/// <remarks>
/// The dependence leaves the marginal model exactly true: binary outcomes come from a Gaussian copula, counts from a gamma factor of mean one that both
/// sides share. The side's measure has correlation 0.8 within persons.
/// </remarks>
internal sealed class TwoSidedData
{
    private const double MeasureCorrelation = 0.8;
    private readonly RandomStream random;
    private readonly double[] measure;
    private readonly double[] trait;

    internal TwoSidedData(Random seed, int persons)
    {
        // Neighbouring seeds give the framework's generator neighbouring numbers; the named stream mixes them.
        this.random = new RandomStream(unchecked((ulong)seed.NextInt64()), "two sides");
        measure = new double[2 * persons];
        trait = new double[2 * persons];
        int[] ids = new int[2 * persons];
        for (int g = 0; g < persons; g++)
        {
            double shared = random.Normal();
            double own = random.Bernoulli(0.5) ? 1 : 0;
            for (int side = 0; side < 2; side++)
            {
                int row = (2 * g) + side;
                measure[row] = (Math.Sqrt(MeasureCorrelation) * shared) + (Math.Sqrt(1 - MeasureCorrelation) * random.Normal());
                trait[row] = own;
                ids[row] = g;
            }
        }
        Persons = Clusters.From(ids);
        X = DesignMatrix.WithIntercept(("measure", measure), ("trait", trait));
    }

    internal DesignMatrix X { get; }

    internal Clusters Persons { get; }

    /// <summary>The linear predictor of each row.</summary>
    internal double[] Predictor(double intercept, double ofMeasure, double ofTrait)
        => [.. measure.Select((m, i) => intercept + (ofMeasure * m) + (ofTrait * trait[i]))];

    /// <summary>Outcomes of 0 and 1 with the given probabilities and a latent normal correlation within persons.</summary>
    internal double[] Binary(double[] probabilities, double correlation)
    {
        double[] latent = Latent(correlation);
        return [.. probabilities.Select((p, i) => latent[i] < p ? 1.0 : 0)];
    }

    /// <summary>Ordered categories: how many of the cumulative probabilities the latent uniform exceeds.</summary>
    internal int[] Ordered(double[] predictor, double[] thresholds, double correlation)
    {
        double[] latent = Latent(correlation);
        return [.. predictor.Select((eta, i) => thresholds.Count(t => latent[i] > 1 / (1 + Math.Exp(eta - t))))];
    }

    /// <summary>Poisson counts whose means are multiplied by a gamma factor of mean 1 and the given variance, shared by both sides.</summary>
    internal double[] Counts(double[] means, double variance)
    {
        double[] counts = new double[means.Length];
        for (int g = 0; g < Persons.Count; g++)
        {
            double factor = variance == 0 ? 1 : random.Gamma(1 / variance) * variance;
            counts[2 * g] = random.Poisson(means[2 * g] * factor);
            counts[(2 * g) + 1] = random.Poisson(means[(2 * g) + 1] * factor);
        }
        return counts;
    }

    private double[] Latent(double correlation)
    {
        double[] uniform = new double[measure.Length];
        for (int g = 0; g < Persons.Count; g++)
        {
            double shared = random.Normal();
            for (int row = 2 * g; row < (2 * g) + 2; row++)
                uniform[row] = StandardNormal.LowerTail((Math.Sqrt(correlation) * shared) + (Math.Sqrt(1 - correlation) * random.Normal()));
        }
        return uniform;
    }
}
