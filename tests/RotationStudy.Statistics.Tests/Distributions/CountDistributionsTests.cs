using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Tests.Distributions;

/// <summary>Exact tails of counts against sums in 50-digit arithmetic (mpmath), to 1e-10 relative.</summary>
public class CountDistributionsTests
{
    [Fact]
    public void Binomial_probabilities_and_both_tails_agree()
    {
        TailTable.Check("binomial", "log", p => Binomial.LogProbability(p.Count("k"), p.Count("n"), p["p"]));
        TailTable.Check("binomial", "at_most", p => Binomial.AtMost(p.Count("k"), p.Count("n"), p["p"]));
        TailTable.Check("binomial", "at_least", p => Binomial.AtLeast(p.Count("k"), p.Count("n"), p["p"]));
    }

    [Fact]
    public void Poisson_probabilities_and_both_tails_agree()
    {
        TailTable.Check("poisson", "log", p => Poisson.LogProbability(p.Count("k"), p["mean"]));
        TailTable.Check("poisson", "at_most", p => Poisson.AtMost(p.Count("k"), p["mean"]));
        TailTable.Check("poisson", "at_least", p => Poisson.AtLeast(p.Count("k"), p["mean"]));
    }

    [Fact]
    public void Hypergeometric_probabilities_and_both_tails_agree()
    {
        TailTable.Check("hypergeometric", "log", p => Hypergeometric.LogProbability(p.Count("k"), p.Count("marked"), p.Count("unmarked"), p.Count("sample")));
        TailTable.Check("hypergeometric", "at_most", p => Hypergeometric.AtMost(p.Count("k"), p.Count("marked"), p.Count("unmarked"), p.Count("sample")));
        TailTable.Check("hypergeometric", "at_least", p => Hypergeometric.AtLeast(p.Count("k"), p.Count("marked"), p.Count("unmarked"), p.Count("sample")));
    }

    [Fact]
    public void The_lady_who_tastes_tea_gets_four_of_four_once_in_seventy()
        => Close.Relative(1.0 / 70, Hypergeometric.AtLeast(4, 4, 4, 4), 1e-14, "Fisher RA. The Design of Experiments, 1935, ch. II");

    [Fact]
    public void Probabilities_outside_the_support_are_zero_and_tails_are_whole()
    {
        Assert.Equal(double.NegativeInfinity, Hypergeometric.LogProbability(5, 4, 4, 4));
        Assert.Equal(double.NegativeInfinity, Binomial.LogProbability(-1, 4, 0.3));
        Assert.Equal(1, Binomial.AtMost(9, 4, 0.3));
        Assert.Equal(1, Poisson.AtLeast(0, 2.0));
        Assert.Equal(0, Poisson.AtMost(-1, 2.0));
        Assert.Equal(0, Binomial.LogProbability(0, 5, 0));
    }

    [Fact]
    public void A_sample_larger_than_the_population_is_refused()
        => Assert.Contains("exceeds the population", Assert.Throws<InvalidInputError>(() => Hypergeometric.AtMost(1, 2, 3, 9)).Message, StringComparison.Ordinal);
}
