using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.CoverageStudies;

/// <summary>Simulated persons with two dependent sides whose marginal hazards are known exactly.</summary>
/// <remarks>
/// Times of a person share a positive-stable frailty of index alpha: integrating it out leaves proportional hazards with
/// coefficients alpha times the conditional ones and cumulative hazard t (Hougaard 1986), so the marginal truth is exact.
/// Kendall's tau between the sides is 1 - alpha. Censoring is uniform; about 35% of sides have the event at effects of zero.
/// </remarks>
internal sealed class PairedSurvival
{
    internal const double Alpha = 0.5;

    private const double LastCensoring = 0.95;

    internal PairedSurvival(Random random, int persons, double beta, bool shared)
    {
        int n = 2 * persons;
        Time = new double[n];
        Event = new bool[n];
        X = new double[n];
        Person = new int[n];
        for (int i = 0; i < persons; i++)
        {
            double frailty = PositiveStable(random, Alpha);
            double common = Normal(random);
            for (int side = 0; side < 2; side++)
            {
                int row = (2 * i) + side;
                Person[row] = i;
                X[row] = shared ? common : Normal(random);
                // Given the frailty the cumulative hazard is frailty (t exp(x beta))^(1/alpha).
                double t = Math.Pow(-Math.Log(1 - random.NextDouble()) / frailty, Alpha) * Math.Exp(-beta * X[row]);
                double c = LastCensoring * random.NextDouble();
                Time[row] = Math.Max(1e-12, Math.Min(t, c));
                Event[row] = t <= c;
            }
        }
    }

    internal double[] Time { get; }

    internal bool[] Event { get; }

    internal double[] X { get; }

    internal int[] Person { get; }

    internal SurvivalTimes Times => SurvivalTimes.RightCensored(Time, Event);

    internal Clusters Persons => Clusters.From(Person);

    internal static double Normal(Random random)
        => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    /// <summary>Laplace transform exp(-s^alpha); Chambers, Mallows and Stuck 1976.</summary>
    internal static double PositiveStable(Random random, double alpha)
    {
        double u = Math.PI * random.NextDouble();
        double w = -Math.Log(1 - random.NextDouble());
        double a = Math.Sin(alpha * u) / Math.Pow(Math.Sin(u), 1 / alpha);
        return a * Math.Pow(Math.Sin((1 - alpha) * u) / w, (1 - alpha) / alpha);
    }

    /// <summary>A standard gamma variable of shape 1 or more (Marsaglia and Tsang 2000) divided by its shape.</summary>
    internal static double MeanOneGamma(Random random, double shape)
    {
        double d = shape - (1.0 / 3);
        double c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            double x = Normal(random);
            double v = Math.Pow(1 + (c * x), 3);
            if (v > 0 && Math.Log(1 - random.NextDouble()) < (0.5 * x * x) + d - (d * v) + (d * Math.Log(v)))
                return d * v / shape;
        }
    }
}
