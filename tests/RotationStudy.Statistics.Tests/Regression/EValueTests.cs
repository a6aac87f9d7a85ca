using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public sealed class EValueTests
{
    // VanderWeele and Ding 2017, the example of a risk ratio of 3.9 (1.8 to 8.7): E-values 7.2 and 3.0 (recalled, not
    // re-read); the digits beyond are the formula by hand: 3.9 + sqrt(3.9 x 2.9), 1.8 + sqrt(1.8 x 0.8).
    [Fact]
    public void The_published_example_is_met()
    {
        EValue value = EValue.OfRiskRatio(3.9, new ConfidenceInterval(1.8, 8.7, 0.95));
        Assert.Equal(7.2630343441600465, value.OfEstimate, 1e-12);
        Assert.Equal(3.0, value.OfInterval, 1e-12);
    }

    [Fact]
    public void A_protective_ratio_has_the_value_of_its_inverse()
    {
        EValue value = EValue.OfRiskRatio(1 / 3.9, new ConfidenceInterval(1 / 8.7, 1 / 1.8, 0.95));
        Assert.Equal(7.2630343441600465, value.OfEstimate, 1e-12);
        Assert.Equal(3.0, value.OfInterval, 1e-12);
    }

    [Fact]
    public void An_interval_that_holds_one_needs_no_confounding()
        => Assert.Equal(1, EValue.OfRiskRatio(1.4, new ConfidenceInterval(0.9, 2.2, 0.95)).OfInterval);

    [Fact]
    public void Ratios_of_common_outcomes_are_brought_nearer_to_one_and_keep_their_inverse()
    {
        Assert.Equal(2, EValue.RiskRatioFromOdds(4), 1e-12);
        // By hand: (1 - 0.5^2) / (1 - 0.5^0.5) = 0.75 / 0.29289321881.
        Assert.Equal(2.5606601717798214, EValue.RiskRatioFromHazard(4), 1e-12);
        Assert.Equal(1, EValue.RiskRatioFromHazard(1), 1e-12);
        Assert.Equal(1, EValue.RiskRatioFromHazard(4) * EValue.RiskRatioFromHazard(0.25), 1e-12);
    }

    // By the definition, exp(0.91 d); 1.81 d is the log odds ratio of a difference d (Chinn 2000, recalled, not re-read), whose root is near.
    [Fact]
    public void A_difference_in_standard_deviations_stands_for_a_risk_ratio()
    {
        Assert.Equal(Math.Exp(0.455), EValue.RiskRatioFromDifference(0.5), 1e-12);
        Assert.Equal(EValue.RiskRatioFromOdds(Math.Exp(1.81 * 0.5)), EValue.RiskRatioFromDifference(0.5), 0.005);
        Assert.Equal(1, EValue.RiskRatioFromDifference(0));
    }

    [Fact]
    public void A_ratio_that_is_not_positive_is_refused()
        => Assert.Contains("has no E-value", Assert.Throws<InvalidInputError>(() => EValue.OfRiskRatio(0, new ConfidenceInterval(0, 1, 0.95))).Message);
}
