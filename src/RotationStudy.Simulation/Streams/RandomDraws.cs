using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace RotationStudy.Simulation.Streams;

/// <summary>Draws from one stream: xoshiro256** (Blackman and Vigna, ACM Trans Math Softw 2021;47(4):36), whose numbers do not change with the framework's version.</summary>
internal sealed class RandomDraws(int start)
{
    private readonly Xoshiro256StarStar source = new(start, threadSafe: false);

    /// <summary>Uniform from 0 to below 1.</summary>
    internal double Uniform() => source.NextDouble();

    /// <summary>Uniform between two ends.</summary>
    internal double Between(double low, double high) => low + ((high - low) * source.NextDouble());

    /// <summary>True with that probability.</summary>
    internal bool Happens(double probability) => source.NextDouble() < probability;

    /// <summary>A normal number.</summary>
    internal double Normal(double mean, double sd) => mean + (sd * MathNet.Numerics.Distributions.Normal.Sample(source, 0, 1));

    /// <summary>A normal number drawn again until it lies between two ends.</summary>
    internal double NormalWithin(double mean, double sd, double low, double high)
    {
        double value;
        do
            value = Normal(mean, sd);
        while (value < low || value > high);
        return value;
    }

    /// <summary>A gamma number with mean one and that variance.</summary>
    internal double UnitGamma(double variance) => variance == 0 ? 1 : Gamma.Sample(source, 1 / variance, 1 / variance);

    /// <summary>A wait with that rate; infinite for rate zero.</summary>
    internal double Wait(double rate) => -Math.Log(1 - source.NextDouble()) / rate;

    /// <summary>True with the probability that belongs to these log odds.</summary>
    internal bool HappensAtLogOdds(double logOdds) => Happens(1 / (1 + Math.Exp(-logOdds)));

    /// <summary>A position drawn in proportion to weights that sum to one.</summary>
    internal int Pick(IReadOnlyList<double> weights)
    {
        double at = source.NextDouble();
        for (int i = 0; i < weights.Count - 1; i++)
        {
            at -= weights[i];
            if (at < 0)
                return i;
        }
        return weights.Count - 1;
    }
}
