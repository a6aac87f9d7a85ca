using System.Diagnostics.CodeAnalysis;
using System.Numerics;
using System.Text;
using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Resampling;

/// <summary>A stream of random numbers that is named: the same seed, name and index always give the same numbers.</summary>
/// <remarks>
/// <para>One seed serves a whole study; each use has a stream of its own name, and each replicate or imputation its own
/// index, so that adding a use, or running replicates in any order on any number of threads, changes no other number.</para>
/// <para>Generator: xoshiro256** (Blackman and Vigna 2021), period 2^256 - 1, its state filled by SplitMix64 (Steele, Lea
/// and Flood 2014) from a 64-bit key. The key is the seed mixed with the FNV-1a hash of the name's UTF-8 bytes and with
/// the index. Different keys start at unrelated places of the period. The framework's own generator is not used, since its
/// numbers may change between versions.</para>
/// <para>One stream belongs to one thread.</para>
/// <para><b>Sources.</b> Blackman D, Vigna S, ACM Trans Math Softw 2021;47(4):36; Lemire D, ACM Trans Model Comput Simul
/// 2019;29(1):3 (integers below n); Marsaglia and Bray, SIAM Rev 1964;6:260-264 (normal); Marsaglia and Tsang, ACM Trans
/// Math Softw 2000;26:363-372 (gamma); Hormann W, Insur Math Econ 1993;12:39-45, algorithm PTRS (Poisson).
/// <b>Checked against</b> Resampling/random_stream.</para>
/// </remarks>
[SuppressMessage("Naming", "CA1711", Justification = "A stream of random numbers is the word of the field.")]
public sealed class RandomStream
{
    private const ulong Golden = 0x9E3779B97F4A7C15;
    private const double PoissonInversionBelow = 10;

    private ulong s0;
    private ulong s1;
    private ulong s2;
    private ulong s3;
    private double spareNormal = double.NaN;

    /// <summary>Opens a stream.</summary>
    /// <param name="seed">The study's seed.</param>
    /// <param name="name">What the numbers are for; case matters.</param>
    /// <param name="index">Which replicate, imputation or block of that use.</param>
    public RandomStream(ulong seed, string name, long index = 0)
    {
        ulong key = Mix(Mix(seed + Golden) ^ Hash(name));
        key = Mix(key + (Golden * unchecked((ulong)index)));
        s0 = SplitMix(ref key);
        s1 = SplitMix(ref key);
        s2 = SplitMix(ref key);
        s3 = SplitMix(ref key);
    }

    private RandomStream(ulong s0, ulong s1, ulong s2, ulong s3) => (this.s0, this.s1, this.s2, this.s3) = (s0, s1, s2, s3);

    /// <summary>64 random bits.</summary>
    public ulong Bits()
    {
        ulong result = BitOperations.RotateLeft(s1 * 5, 7) * 9;
        ulong t = s1 << 17;
        s2 ^= s0;
        s3 ^= s1;
        s1 ^= s2;
        s0 ^= s3;
        s2 ^= t;
        s3 = BitOperations.RotateLeft(s3, 45);
        return result;
    }

    /// <summary>A uniform number, zero included and one not: a multiple of 2^-53.</summary>
    public double Uniform() => (Bits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>A uniform number strictly between zero and one.</summary>
    public double UniformOpen() => ((Bits() >> 12) + 0.5) * (1.0 / (1UL << 52));

    /// <summary>A whole number from 0 to n - 1, every one equally likely; n above zero.</summary>
    public int Below(int n)
    {
        if (n <= 0)
            throw new InvalidInputError($"no whole number lies from 0 to below {n}", "Give a count above zero.");
        UInt128 product = (UInt128)Bits() * (ulong)n;
        ulong low = (ulong)product;
        if (low < (ulong)n)
        {
            ulong threshold = (0 - (ulong)n) % (ulong)n;
            while (low < threshold)
            {
                product = (UInt128)Bits() * (ulong)n;
                low = (ulong)product;
            }
        }
        return (int)(product >> 64);
    }

    /// <summary>True with the given probability.</summary>
    public bool Bernoulli(double probability) => Uniform() < probability;

    /// <summary>A standard normal number (polar method).</summary>
    public double Normal()
    {
        if (!double.IsNaN(spareNormal))
        {
            double kept = spareNormal;
            spareNormal = double.NaN;
            return kept;
        }
        double u;
        double v;
        double square;
        do
        {
            u = (2 * Uniform()) - 1;
            v = (2 * Uniform()) - 1;
            square = (u * u) + (v * v);
        }
        while (square is >= 1 or 0);
        double factor = Math.Sqrt(-2 * Math.Log(square) / square);
        spareNormal = v * factor;
        return u * factor;
    }

    /// <summary>An exponential number with mean one.</summary>
    public double Exponential() => -Math.Log(UniformOpen());

    /// <summary>A gamma number with the given shape and scale one.</summary>
    public double Gamma(double shape)
    {
        Domain.PositiveFinite(shape, nameof(shape));
        if (shape < 1)
            return Gamma(shape + 1) * Math.Pow(UniformOpen(), 1 / shape);
        double d = shape - (1.0 / 3);
        double c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            double z = Normal();
            double v = 1 + (c * z);
            if (v <= 0)
                continue;
            v = v * v * v;
            if (Math.Log(UniformOpen()) < (0.5 * z * z) + d - (d * v) + (d * Math.Log(v)))
                return d * v;
        }
    }

    /// <summary>A chi-square number.</summary>
    public double ChiSquared(double degreesOfFreedom) => 2 * Gamma(degreesOfFreedom / 2);

    /// <summary>A Poisson count; mean zero or more.</summary>
    public int Poisson(double mean)
    {
        if (mean == 0)
            return 0;
        Domain.PositiveFinite(mean, nameof(mean));
        if (mean >= PoissonInversionBelow)
            return PoissonByRejection(mean);
        double limit = Math.Exp(-mean);
        double product = UniformOpen();
        int count = 0;
        while (product > limit)
        {
            product *= UniformOpen();
            count++;
        }
        return count;
    }

    /// <summary>Counts of a number of independent draws from categories; each draw is one uniform number against the running sum.</summary>
    /// <param name="trials">Number of draws.</param>
    /// <param name="probabilities">Non-negative weights of the categories; they are scaled to sum one.</param>
    public int[] Multinomial(int trials, ReadOnlySpan<double> probabilities)
    {
        int[] counts = new int[probabilities.Length];
        for (int i = 0; i < trials; i++)
            counts[Category(probabilities)]++;
        return counts;
    }

    /// <summary>One category drawn with probability in proportion to its weight.</summary>
    public int Category(ReadOnlySpan<double> weights)
    {
        double total = 0;
        foreach (double w in weights)
            total += w;
        if (!(total > 0) || double.IsInfinity(total))
            throw new InvalidInputError($"weights that sum to {total} are no distribution", "Give non-negative weights, one above zero.");
        double at = Uniform() * total;
        int last = 0;
        for (int i = 0; i < weights.Length; i++)
        {
            if (weights[i] <= 0)
                continue;
            last = i;
            at -= weights[i];
            if (at < 0)
                break;
        }
        return last;
    }

    /// <summary>Puts the elements into random order, every order equally likely (Fisher-Yates).</summary>
    public void Shuffle(Span<int> values)
    {
        for (int i = values.Length - 1; i > 0; i--)
        {
            int j = Below(i + 1);
            (values[i], values[j]) = (values[j], values[i]);
        }
    }

    /// <summary>A generator from a bare state, for the published test vectors.</summary>
    internal static RandomStream FromState(ulong s0, ulong s1, ulong s2, ulong s3) => new(s0, s1, s2, s3);

    /// <summary>The next output of SplitMix64.</summary>
    internal static ulong SplitMix(ref ulong state) => Mix(state += Golden);

    private int PoissonByRejection(double mean)
    {
        double b = 0.931 + (2.53 * Math.Sqrt(mean));
        double a = -0.059 + (0.02483 * b);
        double inverseAlpha = 1.1239 + (1.1328 / (b - 3.4));
        double squeeze = 0.9277 - (3.6224 / (b - 2));
        while (true)
        {
            double u = UniformOpen() - 0.5;
            double v = UniformOpen();
            double us = 0.5 - Math.Abs(u);
            double k = Math.Floor((((2 * a / us) + b) * u) + mean + 0.43);
            if (us >= 0.07 && v <= squeeze)
                return (int)k;
            if (k < 0 || k > int.MaxValue || (us < 0.013 && v > us))
                continue;
            double accept = Math.Log(v * inverseAlpha / ((a / (us * us)) + b));
            if (accept <= Distributions.Poisson.LogProbability((int)k, mean))
                return (int)k;
        }
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    private static ulong Hash(string name)
    {
        ulong hash = 0xCBF29CE484222325;
        foreach (byte b in Encoding.UTF8.GetBytes(name))
            hash = (hash ^ b) * 0x100000001B3;
        return hash;
    }
}
