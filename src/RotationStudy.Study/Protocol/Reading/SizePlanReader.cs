namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads planning.yaml.</summary>
internal static class SizePlanReader
{
    internal const string File = "planning.yaml";

    private enum Kind
    {
        HazardRatio,
        OddsRatio,
        RateRatio,
        Difference,
        IntraclassCorrelation,
        LimitsOfAgreement,
    }

    internal static SizePlan Read(YamlSection top)
    {
        double level = top.Number("level", 0.05);
        double power = top.Number("power", 0.8);
        int participants = top.WholeNumber("participants");
        top.Need("targets", "List what the study is to find, or to know.");
        SizePlan plan = new(level, power, participants, [.. top.Owners("targets", "target").Select(ReadTarget).OfType<SizeTarget>()]);
        if (level is not (> 0 and < 0.5))
            top.Fault("level", "'level' must be above 0 and below 0.5.", "0.05 is usual.");
        if (power is not (> 0.5 and < 1))
            top.Fault("power", "'power' must be above 0.5 and below 1.", "0.8 or 0.9 is usual.");
        if (top.Has("participants") && participants < 2)
            top.Fault("participants", "'participants' must be 2 or more.", "Write how many the study expects to enrol.");
        top.Close();
        return plan;
    }

    private static SizeTarget? ReadTarget(YamlSection s)
    {
        SizeTarget target = new(s.Text("id"), s.Text("label"), s.OptionalText("question"), s.Text("source"), new LimitsGoal(0, 0), s.Place);
        SizeGoal? goal = s.Word<Kind>("kind") switch
        {
            Kind.HazardRatio => new HazardRatioGoal(Exposure(s, "ratio"), Range(s, "event_share", 1e-6, 1)),
            Kind.OddsRatio => new OddsRatioGoal(Exposure(s, "ratio"), Range(s, "event_share", 1e-6, 1 - 1e-6)),
            Kind.RateRatio => new RateRatioGoal(Exposure(s, "ratio"), Positive(s, "events_per_row"), Range(s, "dispersion", 0, 1000)),
            Kind.Difference => new DifferenceGoal(Exposure(s, "change"), Positive(s, "residual_sd"), Count(s, "coefficients", 2)),
            Kind.IntraclassCorrelation => new IntraclassGoal(Range(s, "correlation", 0, 0.999), Count(s, "readings", 2), Range(s, "width", 1e-6, 1)),
            Kind.LimitsOfAgreement => new LimitsGoal(Positive(s, "difference_sd"), Positive(s, "half_width")),
            _ => null,
        };
        if (goal is null)
            return null;
        s.Close();
        return target with { Goal = goal };
    }

    private static ExposureAssumptions Exposure(YamlSection s, string key)
    {
        bool ratio = key == "ratio";
        double effect = ratio ? Positive(s, key) : s.Number(key);
        if (s.Has(key) && effect == (ratio ? 1 : 0))
            s.Fault(key, $"'{key}' is no effect.", "Write the smallest effect that would matter.");
        return new ExposureAssumptions(
            effect, Positive(s, "exposure_sd"), Range(s, "explained", 0, 0.999), Range(s, "outcome_correlation", 0, 1),
            Range(s, "exposure_correlation", 0, 1), Positive(s, "rows_per_participant"));
    }

    private static double Positive(YamlSection s, string key)
    {
        double value = s.Number(key);
        if (s.Has(key) && value <= 0)
            s.Fault(key, $"'{key}' must be above 0.", "Write a number with a decimal point.");
        return value;
    }

    private static double Range(YamlSection s, string key, double low, double high)
    {
        double value = s.Number(key);
        if (s.Has(key) && !(value >= low && value <= high))
            s.Fault(key, FormattableString.Invariant($"'{key}' must be from {low} to {high}."), "Write a number with a decimal point.");
        return value;
    }

    private static int Count(YamlSection s, string key, int least)
    {
        int value = s.WholeNumber(key);
        if (s.Has(key) && value < least)
            s.Fault(key, FormattableString.Invariant($"'{key}' must be {least} or more."), "Write a whole number.");
        return value;
    }
}
