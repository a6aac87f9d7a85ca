using RotationStudy.Statistics.Planning;

namespace RotationStudy.Statistics.Tests.Planning;

public sealed class SampleSizePlansTests
{
    private static readonly TestTarget Usual = new();

    // Schoenfeld 1983 (Biometrics 39:499): hazard ratio 2, equal groups, power 80%, 66 events; the others by his formula.
    [Theory]
    [InlineData(2.0, 0.5, 0.8, 66)]
    [InlineData(1.5, 0.5, 0.8, 191)]
    [InlineData(2.0, 0.3, 0.9, 105)]
    [InlineData(3.0, 0.2, 0.8, 41)]
    public void Events_for_a_hazard_ratio_of_two_groups(double ratio, double share, double power, double events)
        => Assert.Equal(events, Math.Ceiling(HazardRatioPlan.Events(ratio, HazardRatioPlan.VarianceOfShare(share), new TestTarget(0.05, power))));

    // Hsieh and Lavori 2000, multiple myeloma: log urea nitrogen with standard deviation 0.3126, log hazard ratio 1, one-sided 5%,
    // power 80%: 64 events, 78 with R^2 = 0.1837 (recalled, not re-read; the formula reproduces them).
    [Theory]
    [InlineData(0, 64)]
    [InlineData(0.1837, 78)]
    public void Events_for_a_continuous_exposure(double explained, double events)
        => Assert.Equal(events, Math.Ceiling(HazardRatioPlan.Events(Math.E, 0.3126 * 0.3126, new TestTarget(0.10, 0.8), explained)));

    // Hsieh, Bloch and Larsen 1998, table II, balanced design: odds ratio 1.5 per standard deviation, event rate 0.5 at the mean, two-sided
    // 5%, power 95%: 317 rows.
    [Fact]
    public void Rows_for_an_odds_ratio()
        => Assert.Equal(317, Math.Ceiling(OddsRatioPlan.Rows(1.5, 0.5, 1, new TestTarget(0.05, 0.95))));

    // Bonett 2002: correlation 0.8, two readings, width 0.2: 51 subjects, with the correction 55; the others by his formula.
    [Theory]
    [InlineData(0.8, 2, 0.2, false, 51)]
    [InlineData(0.8, 2, 0.2, true, 55)]
    [InlineData(0.8, 3, 0.2, true, 36)]
    [InlineData(0.9, 3, 0.1, true, 42)]
    [InlineData(0.6, 2, 0.2, true, 159)]
    public void Subjects_for_an_intraclass_correlation(double correlation, int readings, double width, bool corrected, double subjects)
        => Assert.Equal(subjects, Math.Ceiling(IntraclassCorrelationPlan.Subjects(correlation, readings, width, corrected: corrected)));

    // Bland and Altman 1986 (Lancet 327:307) and their note on sample size: 0.34 s for 100 pairs, 0.24 s for 200.
    [Theory]
    [InlineData(100, 0.34)]
    [InlineData(200, 0.24)]
    public void Limits_of_agreement(double pairs, double halfWidth)
    {
        Assert.Equal(halfWidth, LimitsOfAgreementPlan.HalfWidth(pairs, 1), 0.005);
        Assert.Equal(pairs, LimitsOfAgreementPlan.Pairs(LimitsOfAgreementPlan.HalfWidth(pairs, 2.5), 2.5), 1e-9);
    }

    // R 4.2.2: pf(qf(0.95, 1, n - k), 1, n - k, ncp, lower.tail = FALSE); fewest rows by stepping n.
    [Fact]
    public void Power_of_a_slope_is_that_of_the_noncentral_distribution()
    {
        Assert.Equal(0.791100668891, SlopePlan.Power(50, 0.4, 1, 1, 3), 1e-9);
        Assert.Equal(0.760116972515, SlopePlan.Power(95, 2, 1.2, 8, 6, explained: 0.15), 1e-9);
        Assert.Equal(0.567741587978, SlopePlan.Power(120, -0.5, 1, 2, 4, explained: 0.2, designEffect: 1.3), 1e-9);
        Assert.Equal(52, SlopePlan.Rows(0.4, 1, 1, 3, Usual));
    }

    [Fact]
    public void Without_dispersion_the_rows_of_a_rate_ratio_hold_the_events_of_a_hazard_ratio()
    {
        Close.Relative(HazardRatioPlan.Events(1.4, 1.2, Usual, 0.1), RateRatioPlan.Rows(1.4, 0.25, 0, 1.2, Usual, 0.1) * 0.25, 1e-12);
        Assert.True(RateRatioPlan.Rows(1.4, 0.25, 2, 1.2, Usual) > RateRatioPlan.Rows(1.4, 0.25, 0, 1.2, Usual));
    }

    [Fact]
    public void Needed_size_power_and_detectable_effect_are_one_relation()
    {
        double events = HazardRatioPlan.Events(1.3, 2, Usual, 0.2, 1.5);
        Assert.Equal(0.8, HazardRatioPlan.Power(events, 1.3, 2, Usual, 0.2, 1.5), 1e-12);
        Assert.Equal(0.8, HazardRatioPlan.Power(events, 1 / 1.3, 2, Usual, 0.2, 1.5), 1e-12);
        Assert.Equal(1.3, HazardRatioPlan.DetectableRatio(events, 2, Usual, 0.2, 1.5), 1e-12);
        double rows = OddsRatioPlan.Rows(1.6, 0.3, 0.7, Usual, 0.1, 1.2);
        Assert.Equal(0.8, OddsRatioPlan.Power(rows, 1.6, 0.3, 0.7, Usual, 0.1, 1.2), 1e-12);
        Assert.Equal(1.6, OddsRatioPlan.DetectableRatio(rows, 0.3, 0.7, Usual, 0.1, 1.2), 1e-12);
        rows = RateRatioPlan.Rows(1.25, 0.4, 0.8, 1, Usual);
        Assert.Equal(0.8, RateRatioPlan.Power(rows, 1.25, 0.4, 0.8, 1, Usual), 1e-12);
        Assert.Equal(1.25, RateRatioPlan.DetectableRatio(rows, 0.4, 0.8, 1, Usual), 1e-12);
    }

    [Fact]
    public void The_design_effect_of_a_slope_is_the_exact_one_of_balanced_pairs()
    {
        Assert.Equal(1.5, DesignEffect.OfSlope(2, 0.5), 1e-15);
        Assert.Equal(1, DesignEffect.OfSlope(2, 0.5, 0), 1e-15);
        // By hand: pairs of rows, centred exposure with correlation x, errors with correlation r. The least-squares slope has variance
        // sum over pairs of (a^2 + b^2 + 2 r a b) / (sum of a^2 + b^2)^2, and sum of a b = x sum of (a^2 + b^2) / 2.
        double[] a = [-2, -1, 0, 1, 2, 0.5, -0.5];
        double[] b = [-1, -2, 1, 0, 1, 1.5, -0.5];
        double squares = a.Sum(v => v * v) + b.Sum(v => v * v);
        double products = a.Zip(b, (u, v) => u * v).Sum();
        double x = 2 * products / squares;
        const double r = 0.6;
        Assert.Equal((squares + (2 * r * products)) / squares, DesignEffect.OfSlope(2, r, x), 1e-12);
        Assert.Equal(1 + ((((1 + 0.25) * 4) - 1) * 0.1), DesignEffect.OfSlope(4, 0.1, 1, 0.5), 1e-15);
    }

    [Fact]
    public void Assumptions_that_cannot_be_are_refused()
    {
        Assert.Contains("no effect", Assert.Throws<InvalidInputError>(() => HazardRatioPlan.Events(1, 1, Usual)).What, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => HazardRatioPlan.Events(2, 1, Usual, 1));
        Assert.Throws<InvalidInputError>(() => HazardRatioPlan.Events(2, 1, new TestTarget(0.05, 0.02)));
        Assert.Throws<InvalidInputError>(() => OddsRatioPlan.Rows(2, 1, 1, Usual));
        Assert.Throws<InvalidInputError>(() => RateRatioPlan.Rows(2, 0.1, -1, 1, Usual));
        Assert.Throws<InvalidInputError>(() => SlopePlan.Power(3, 1, 1, 1, 3));
        Assert.Throws<InvalidInputError>(() => SlopePlan.Rows(0, 1, 1, 3, Usual));
        Assert.Throws<InvalidInputError>(() => DesignEffect.OfSlope(2, 1.2));
        Assert.Throws<InvalidInputError>(() => IntraclassCorrelationPlan.Subjects(0.8, 1, 0.2));
        Assert.Throws<InvalidInputError>(() => LimitsOfAgreementPlan.Pairs(0, 1));
    }
}
