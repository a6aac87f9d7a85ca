using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Tests.Distributions;

/// <summary>Every tail and quantile against 50-digit arithmetic (mpmath), to 1e-10 relative, df from 0.5 to 1e9, tails to 1e-300.</summary>
public class ContinuousTailsTests
{
    [Fact]
    public void Normal_upper_tails_agree() => TailTable.Check("normal", "upper", p => StandardNormal.UpperTail(p["z"]));

    [Fact]
    public void Normal_quantiles_undo_the_tail()
    {
        foreach (TailPoint p in TailTable.Points("normal").Where(p => p["z"] > 0.1))
            Close.Relative(p["z"], StandardNormal.UpperQuantile(p["upper"]), 1e-12);
    }

    [Fact]
    public void Student_two_sided_p_values_agree() => TailTable.Check("t", "two_sided", p => StudentT.TwoSidedPValue(p["t"], p["v"]));

    [Fact]
    public void Student_quantiles_agree() => TailTable.Check("t_quantile", "t", p => StudentT.UpperQuantile(p["upper"], p["v"]));

    [Fact]
    public void Chi_square_lower_tails_agree() => TailTable.Check("chi", "lower", p => ChiSquared.LowerTail(p["x"], p["k"]));

    [Fact]
    public void Chi_square_upper_tails_agree() => TailTable.Check("chi", "upper", p => ChiSquared.UpperTail(p["x"], p["k"]));

    [Fact]
    public void Chi_square_lower_quantiles_agree() => TailTable.Check("chi_quantile", "lower", p => ChiSquared.Quantile(p["p"], p["k"]));

    [Fact]
    public void Chi_square_upper_quantiles_agree() => TailTable.Check("chi_quantile", "upper", p => ChiSquared.UpperQuantile(p["p"], p["k"]));

    [Fact]
    public void F_lower_tails_agree() => TailTable.Check("f", "lower", p => FDistribution.LowerTail(p["f"], p["a"], p["b"]));

    [Fact]
    public void F_upper_tails_agree() => TailTable.Check("f", "upper", p => FDistribution.UpperTail(p["f"], p["a"], p["b"]));

    [Fact]
    public void F_lower_quantiles_agree() => TailTable.Check("f_quantile", "lower", p => FDistribution.Quantile(p["p"], p["a"], p["b"]));

    [Fact]
    public void F_upper_quantiles_agree() => TailTable.Check("f_quantile", "upper", p => FDistribution.UpperQuantile(p["p"], p["a"], p["b"]));

    [Fact]
    public void Beta_lower_tails_agree() => TailTable.Check("beta", "lower", p => Beta.LowerTail(p["x"], p["a"], p["b"]));

    [Fact]
    public void Beta_upper_tails_agree() => TailTable.Check("beta", "upper", p => Beta.UpperTail(p["x"], p["a"], p["b"]));

    [Fact]
    public void Beta_quantiles_agree() => TailTable.Check("beta_quantile", "x", p => Beta.Quantile(p["p"], p["a"], p["b"]));

    [Fact]
    public void Gamma_quantiles_agree() => TailTable.Check("gamma_quantile", "x", p => Gamma.Quantile(p["p"], p["a"]));

    [Fact]
    public void Log_densities_agree() => TailTable.Check("log_density", "log", p => p.Text("of") switch
    {
        "t" => StudentT.LogDensity(p["x"], p["a"]),
        "gamma" => Gamma.LogDensity(p["x"], p["a"], p["b"]),
        "beta" => Beta.LogDensity(p["x"], p["a"], p["b"]),
        _ => FDistribution.LogDensity(p["x"], p["a"], p["b"]),
    });

    [Theory]
    [InlineData(0.7)]
    [InlineData(5)]
    [InlineData(61.5)]
    [InlineData(2999)]
    [InlineData(6100)]
    [InlineData(3e7)]
    public void Quantiles_undo_tails_over_the_whole_range(double df)
    {
        foreach (double p in new[] { 1e-30, 1e-9, 0.001, 0.2, 0.4999, 0.5, 0.50001, 0.8, 0.975, 0.999999 })
        {
            Close.Relative(p, ChiSquared.LowerTail(ChiSquared.Quantile(p, df), df), 1e-10, $"chi-square {p}");
            Close.Relative(p, StudentT.LowerTail(StudentT.Quantile(p, df), df), 1e-10, $"t {p}");
            Close.Relative(p, FDistribution.LowerTail(FDistribution.Quantile(p, df, 12), df, 12), 1e-10, $"F {p}");
            Close.Relative(p, FDistribution.UpperTail(FDistribution.UpperQuantile(p, 3, df), 3, df), 1e-10, $"F upper {p}");
        }
    }

    [Fact]
    public void Infinite_degrees_of_freedom_are_the_limits()
    {
        Close.Relative(StandardNormal.TwoSidedPValue(3.1), StudentT.TwoSidedPValue(3.1, double.PositiveInfinity), 1e-15);
        Close.Relative(StandardNormal.Quantile(0.975), StudentT.Quantile(0.975, 1e12), 1e-11);
        Close.Relative(ChiSquared.UpperTail(9, 4), FDistribution.UpperTail(2.25, 4, double.PositiveInfinity), 1e-15);
        Close.Relative(ChiSquared.Quantile(0.3, 4) / 4, FDistribution.Quantile(0.3, 4, double.PositiveInfinity), 1e-15);
    }

    [Fact]
    public void A_tail_beyond_the_square_of_the_largest_number_follows_its_power_law()
    {
        // One degree of freedom is the Cauchy distribution: two-sided tail 2/(pi t) far out.
        Close.Relative(2 / (Math.PI * 1e200), StudentT.TwoSidedPValue(1e200, 1), 1e-13);
        Close.Relative(2 / (Math.PI * 1e100), StudentT.TwoSidedPValue(1e100, 1), 1e-13);
    }

    [Fact]
    public void The_ends_of_the_range_are_exact()
    {
        Assert.Equal(0, StudentT.Quantile(0.5, 3));
        Assert.Equal(double.NegativeInfinity, StudentT.Quantile(0, 3));
        Assert.Equal(double.PositiveInfinity, ChiSquared.Quantile(1, 3));
        Assert.Equal(0, ChiSquared.UpperTail(double.PositiveInfinity, 3));
        Assert.Equal(1, FDistribution.UpperTail(0, 2, 5));
        Assert.Equal(1, StudentT.TwoSidedPValue(0, 2));
        Assert.True(double.IsNaN(StudentT.TwoSidedPValue(double.NaN, 2)));
    }

    [Fact]
    public void Parameters_outside_the_family_are_refused()
    {
        Assert.Contains("degrees of freedom", Assert.Throws<InvalidInputError>(() => StudentT.TwoSidedPValue(1, 0)).Message, StringComparison.Ordinal);
        Assert.Contains("does not lie in 0 to 1", Assert.Throws<InvalidInputError>(() => ChiSquared.Quantile(1.2, 3)).Message, StringComparison.Ordinal);
        Assert.Contains("above zero", Assert.Throws<InvalidInputError>(() => Beta.LowerTail(0.5, -1, 3)).Message, StringComparison.Ordinal);
    }
}
