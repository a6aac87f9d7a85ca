using System.Text.Json;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class ExactPoissonRateTests
{
    [Fact]
    public void Rates_agree_with_the_reference_library()
    {
        foreach (JsonElement rate in ReferenceCase.Read("Counts/exact_rates").Element("cases/rates/rates").EnumerateArray())
        {
            ExactRate found = ExactPoissonRate.Rate(rate.GetProperty("events").GetInt32(), rate.GetProperty("exposure").GetDouble());
            Close.Relative(rate.GetProperty("lower").GetDouble(), found.Interval.Lower, 1e-10);
            Close.Relative(rate.GetProperty("upper").GetDouble(), found.Interval.Upper, 1e-10);
        }
    }

    [Fact]
    public void Ratios_agree_with_the_reference_library()
    {
        foreach (JsonElement ratio in ReferenceCase.Read("Counts/exact_rates").Element("cases/ratios/ratios").EnumerateArray())
        {
            JsonElement events = ratio.GetProperty("events");
            JsonElement exposures = ratio.GetProperty("exposures");
            ExactRate found = ExactPoissonRate.Ratio(events[0].GetInt32(), exposures[0].GetDouble(), events[1].GetInt32(), exposures[1].GetDouble());
            Equal(ratio.GetProperty("ratio"), found.Value);
            Equal(ratio.GetProperty("lower"), found.Interval.Lower);
            Equal(ratio.GetProperty("upper"), found.Interval.Upper);
            double smaller = Math.Min(ratio.GetProperty("p_greater").GetDouble(), ratio.GetProperty("p_less").GetDouble());
            Close.Relative(Math.Min(1, 2 * smaller), found.PValue, 1e-10);
        }

        static void Equal(JsonElement expected, double found)
        {
            if (expected.ValueKind == JsonValueKind.String)
                Assert.Equal(double.PositiveInfinity, found);
            else
                Close.Relative(expected.GetDouble(), found, 1e-9);
        }
    }

    [Fact]
    public void No_event_has_the_upper_bound_of_the_rule_of_three()
    {
        ExactRate none = ExactPoissonRate.Rate(0, 1, level: 0.9);
        Assert.Equal(0, none.Interval.Lower);
        Close.Relative(-Math.Log(0.05), none.Interval.Upper, 1e-12);
    }

    [Fact]
    public void The_bound_is_the_rate_whose_tail_is_half_of_what_the_level_leaves()
    {
        ExactRate rate = ExactPoissonRate.Rate(7, 100);
        Close.Relative(0.05, ExactPoissonRate.Rate(7, 100, rate.Interval.Upper).PValue, 1e-9);
        Close.Relative(0.05, ExactPoissonRate.Rate(7, 100, rate.Interval.Lower).PValue, 1e-9);
    }

    [Fact]
    public void Swapping_the_groups_inverts_the_ratio()
    {
        ExactRate ratio = ExactPoissonRate.Ratio(11, 800, 23, 3000);
        ExactRate swapped = ExactPoissonRate.Ratio(23, 3000, 11, 800);
        Close.Relative(1 / ratio.Interval.Lower, swapped.Interval.Upper, 1e-10);
        Close.Relative(ratio.PValue, swapped.PValue, 1e-10);
    }

    [Fact]
    public void Impossible_inputs_are_refused()
    {
        Assert.Throws<InvalidInputError>(() => ExactPoissonRate.Rate(-1, 10));
        Assert.Throws<InvalidInputError>(() => ExactPoissonRate.Rate(1, 0));
        Assert.Throws<TooFewDataError>(() => ExactPoissonRate.Ratio(0, 10, 0, 20));
    }
}
