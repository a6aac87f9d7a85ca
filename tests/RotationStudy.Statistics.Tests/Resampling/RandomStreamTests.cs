using System.Globalization;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Resampling;

public class RandomStreamTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Resampling/random_stream");

    [Fact]
    public void The_generator_gives_the_test_vectors_of_xoshiro256_starstar()
    {
        RandomStream random = RandomStream.FromState(1, 2, 3, 4);
        foreach (ulong expected in Vector("xoshiro_1234"))
            Assert.Equal(expected, random.Bits());
    }

    [Fact]
    public void The_seeder_gives_the_test_vectors_of_SplitMix64()
    {
        ulong state = 1234567;
        foreach (ulong expected in Vector("splitmix_1234567"))
            Assert.Equal(expected, RandomStream.SplitMix(ref state));
    }

    [Fact]
    public void A_named_stream_gives_the_same_numbers_for_ever()
    {
        RandomStream random = new(20260, "bootstrap", 7);
        foreach (ulong expected in Vector("named_20260_bootstrap_7"))
            Assert.Equal(expected, random.Bits());
    }

    [Fact]
    public void Another_seed_name_or_index_gives_other_numbers()
    {
        ulong[] first = [new RandomStream(1, "a", 0).Bits(), new RandomStream(2, "a", 0).Bits(), new RandomStream(1, "b", 0).Bits(), new RandomStream(1, "a", 1).Bits()];
        Assert.Equal(first.Length, first.Distinct().Count());
    }

    [Fact]
    public void Neighbouring_streams_are_not_correlated()
    {
        double sum = 0;
        const int Pairs = 20000;
        for (int i = 0; i < Pairs; i++)
            sum += new RandomStream(5, "x", i).Normal() * new RandomStream(5, "x", i + 1).Normal();
        Assert.InRange(sum / Math.Sqrt(Pairs), -4, 4);
    }

    [Theory]
    [InlineData("uniform", 0.5, 1.0 / 12)]
    [InlineData("normal", 0, 1)]
    [InlineData("exponential", 1, 1)]
    [InlineData("gamma 0.3", 0.3, 0.3)]
    [InlineData("gamma 7.5", 7.5, 7.5)]
    [InlineData("chi-square 3", 3, 6)]
    [InlineData("Poisson 2.5", 2.5, 2.5)]
    [InlineData("Poisson 60", 60, 60)]
    [InlineData("below 7", 3, 4)]
    [InlineData("Bernoulli 0.2", 0.2, 0.16)]
    public void Draws_have_the_mean_and_variance_of_their_distribution(string kind, double mean, double variance)
    {
        const int Draws = 100000;
        RandomStream random = new(11, kind);
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < Draws; i++)
        {
            double x = Draw(random, kind);
            sum += x - mean;
            squares += (x - mean) * (x - mean);
        }
        Assert.InRange(sum / Draws / Math.Sqrt(variance / Draws), -4, 4);
        Assert.InRange(squares / Draws / variance, 0.95, 1.05);
    }

    [Fact]
    public void Categories_come_in_proportion_to_their_weights_and_none_with_weight_zero()
    {
        int[] counts = new RandomStream(3, "categories").Multinomial(60000, [1, 0, 2, 3]);
        Assert.Equal(0, counts[1]);
        Assert.InRange(counts[0], 9650, 10350);
        Assert.InRange(counts[2], 19500, 20500);
    }

    [Fact]
    public void Shuffling_reaches_every_order_equally_often()
    {
        Dictionary<string, int> seen = [];
        for (int i = 0; i < 6000; i++)
        {
            int[] order = [0, 1, 2];
            new RandomStream(9, "shuffle", i).Shuffle(order);
            string key = string.Join(",", order);
            seen[key] = seen.GetValueOrDefault(key) + 1;
        }
        Assert.Equal(6, seen.Count);
        Assert.All(seen.Values, n => Assert.InRange(n, 880, 1120));
    }

    [Fact]
    public void Weights_that_are_no_distribution_are_refused()
        => Assert.Contains("no distribution", Assert.Throws<InvalidInputError>(() => new RandomStream(1, "x").Category([0, 0])).Message, StringComparison.Ordinal);

    private static double Draw(RandomStream random, string kind) => kind switch
    {
        "uniform" => random.Uniform(),
        "normal" => random.Normal(),
        "exponential" => random.Exponential(),
        "gamma 0.3" => random.Gamma(0.3),
        "gamma 7.5" => random.Gamma(7.5),
        "chi-square 3" => random.ChiSquared(3),
        "Poisson 2.5" => random.Poisson(2.5),
        "Poisson 60" => random.Poisson(60),
        "below 7" => random.Below(7),
        _ => random.Bernoulli(0.2) ? 1 : 0,
    };

    private static IEnumerable<ulong> Vector(string name)
        => Case.Element(name).EnumerateArray().Select(e => ulong.Parse(e.GetString()!, NumberStyles.None, CultureInfo.InvariantCulture));
}
