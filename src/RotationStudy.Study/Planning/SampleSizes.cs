using System.Collections.Immutable;
using RotationStudy.Statistics.Planning;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Planning;

/// <summary>Sample size, power and precision of everything that planning.yaml asks for.</summary>
public static class SampleSizes
{
    /// <summary>One answer per target, in the order of the file; empty for a protocol without the file.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="participants">Participants instead of those that the file expects; null for the file's.</param>
    public static ImmutableArray<SampleSize> Of(StudyProtocol protocol, int? participants = null)
        => protocol.Size is { } plan ? [.. plan.Targets.Select(t => Of(t, plan with { Participants = participants ?? plan.Participants }))] : [];

    private static SampleSize Of(SizeTarget target, SizePlan plan)
    {
        TestTarget test = new(plan.Level, plan.Power);
        return target.Goal switch
        {
            HazardRatioGoal g => OfHazard(target, plan, test, g),
            OddsRatioGoal g => OfRows(
                target, plan, g.Exposure, OddsRatioPlan.Rows(g.Exposure.Effect, g.EventShare, Variance(g.Exposure), test, g.Exposure.Explained, Design(g.Exposure)),
                rows => OddsRatioPlan.Power(rows, g.Exposure.Effect, g.EventShare, Variance(g.Exposure), test, g.Exposure.Explained, Design(g.Exposure)),
                rows => Ratio("an odds ratio", OddsRatioPlan.DetectableRatio(rows, g.EventShare, Variance(g.Exposure), test, g.Exposure.Explained, Design(g.Exposure)), g.Exposure),
                g.EventShare, "an odds ratio", "Hsieh, Bloch and Larsen 1998", FormattableString.Invariant($"the outcome in {100 * g.EventShare:0.#}% at the mean of the exposure")),
            RateRatioGoal g => OfRows(
                target, plan, g.Exposure, RateRatioPlan.Rows(g.Exposure.Effect, g.EventsPerRow, g.Dispersion, Variance(g.Exposure), test, g.Exposure.Explained, Design(g.Exposure)),
                rows => RateRatioPlan.Power(rows, g.Exposure.Effect, g.EventsPerRow, g.Dispersion, Variance(g.Exposure), test, g.Exposure.Explained, Design(g.Exposure)),
                rows => Ratio("a rate ratio", RateRatioPlan.DetectableRatio(rows, g.EventsPerRow, g.Dispersion, Variance(g.Exposure), test, g.Exposure.Explained, Design(g.Exposure)), g.Exposure),
                g.EventsPerRow, "a rate ratio", "Signorini 1991; Zhu and Lakkis 2014", FormattableString.Invariant($"{g.EventsPerRow:0.###} events expected per row, dispersion {g.Dispersion:0.###}")),
            DifferenceGoal g => OfDifference(target, plan, test, g),
            IntraclassGoal g => OfIntraclass(target, plan, g),
            LimitsGoal g => OfLimits(target, plan, g),
            _ => throw new NotSupportedException($"{target.Goal.GetType().Name} has no formula."),
        };
    }

    private static SampleSize OfHazard(SizeTarget target, SizePlan plan, TestTarget test, HazardRatioGoal g)
    {
        ExposureAssumptions x = g.Exposure;
        double events = HazardRatioPlan.Events(x.Effect, Variance(x), test, x.Explained, Design(x));
        return OfRows(
            target, plan, x, events / g.EventShare,
            rows => HazardRatioPlan.Power(rows * g.EventShare, x.Effect, Variance(x), test, x.Explained, Design(x)),
            rows => Ratio("a hazard ratio", HazardRatioPlan.DetectableRatio(rows * g.EventShare, Variance(x), test, x.Explained, Design(x)), x),
            g.EventShare, "a hazard ratio", "Schoenfeld 1983; Hsieh and Lavori 2000", FormattableString.Invariant($"an event in {100 * g.EventShare:0.#}% of rows"));
    }

    private static SampleSize OfDifference(SizeTarget target, SizePlan plan, TestTarget test, DifferenceGoal g)
    {
        ExposureAssumptions x = g.Exposure;
        return OfRows(
            target, plan, x, SlopePlan.Rows(x.Effect, x.Sd, g.ResidualSd, g.Coefficients, test, x.Explained, Design(x)),
            rows => rows > g.Coefficients ? SlopePlan.Power(rows, x.Effect, x.Sd, g.ResidualSd, g.Coefficients, plan.Level, x.Explained, Design(x)) : 0,
            rows => FormattableString.Invariant($"a change of {Detectable(rows, plan, g):0.###} per step"),
            null, "change", "noncentral t, Cohen 1988", FormattableString.Invariant($"residual standard deviation {g.ResidualSd:0.###}, {g.Coefficients} coefficients"));
    }

    // The power of a slope depends on slope / residual sd alone, so the slope that is found is searched for on that scale.
    private static double Detectable(double rows, SizePlan plan, DifferenceGoal g)
    {
        ExposureAssumptions x = g.Exposure;
        double high = g.ResidualSd / x.Sd;
        while (PowerOf(high) < plan.Power && high < 1e6 * g.ResidualSd / x.Sd)
            high *= 2;
        double low = 0;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            if (PowerOf(middle) < plan.Power)
                low = middle;
            else
                high = middle;
        }
        return high;

        double PowerOf(double slope)
            => rows > g.Coefficients ? SlopePlan.Power(rows, slope, x.Sd, g.ResidualSd, g.Coefficients, plan.Level, x.Explained, Design(x)) : 0;
    }

    private static SampleSize OfRows(
        SizeTarget target, SizePlan plan, ExposureAssumptions x, double rows, Func<double, double> power, Func<double, string> found,
        double? eventsPerRow, string scale, string method, string assumed)
    {
        double participants = Math.Ceiling(rows / x.RowsPerParticipant * (1 - 1e-12));
        double plannedRows = plan.Participants * x.RowsPerParticipant;
        string aim = scale == "change"
            ? FormattableString.Invariant($"a change of {x.Effect:0.###} per step, power {100 * plan.Power:0.#}%")
            : FormattableString.Invariant($"{scale} of {x.Effect:0.###} per step, power {100 * plan.Power:0.#}%");
        string assumptions = FormattableString.Invariant(
            $"{assumed}; exposure with standard deviation {x.Sd:0.###} steps, {100 * x.Explained:0.#}% of its variance explained by the other terms; {x.RowsPerParticipant:0.##} rows per participant, whose outcomes correlate {x.OutcomeCorrelation:0.##} and exposures {x.ExposureCorrelation:0.##}; two-sided level {plan.Level:0.###}.");
        return new SampleSize(
            target.Id, target.Label, target.Question, aim, participants, Math.Ceiling(participants * x.RowsPerParticipant), eventsPerRow * participants * x.RowsPerParticipant,
            Design(x), plan.Participants, power(plannedRows), found(plannedRows), participants <= plan.Participants, method, char.ToUpperInvariant(assumptions[0]) + assumptions[1..], target.Source);
    }

    private static SampleSize OfIntraclass(SizeTarget target, SizePlan plan, IntraclassGoal g)
    {
        double subjects = Math.Ceiling(IntraclassCorrelationPlan.Subjects(g.Correlation, g.Readings, g.Width));
        double narrow = 1e-6;
        double wide = 2;
        for (int i = 0; i < 60; i++)
        {
            double middle = (narrow + wide) / 2;
            if (IntraclassCorrelationPlan.Subjects(g.Correlation, g.Readings, middle) > plan.Participants)
                narrow = middle;
            else
                wide = middle;
        }
        return new SampleSize(
            target.Id, target.Label, target.Question, FormattableString.Invariant($"an interval {g.Width:0.###} wide"), subjects, subjects * g.Readings, null, null,
            plan.Participants, null, FormattableString.Invariant($"an interval {wide:0.###} wide"), subjects <= plan.Participants, "Bonett 2002",
            FormattableString.Invariant($"Intraclass correlation {g.Correlation:0.##}, {g.Readings} readings per subject, 95% interval."), target.Source);
    }

    private static SampleSize OfLimits(SizeTarget target, SizePlan plan, LimitsGoal g)
    {
        double pairs = Math.Ceiling(LimitsOfAgreementPlan.Pairs(g.HalfWidth, g.DifferenceSd) * (1 - 1e-12));
        return new SampleSize(
            target.Id, target.Label, target.Question, FormattableString.Invariant($"limits known to ± {g.HalfWidth:0.###}"), pairs, pairs, null, null,
            plan.Participants, null, FormattableString.Invariant($"limits known to ± {LimitsOfAgreementPlan.HalfWidth(plan.Participants, g.DifferenceSd):0.###}"),
            pairs <= plan.Participants, "Bland and Altman 1986", FormattableString.Invariant($"Standard deviation of differences {g.DifferenceSd:0.###}, one pair per participant, 95% interval."), target.Source);
    }

    private static string Ratio(string scale, double found, ExposureAssumptions x)
        => FormattableString.Invariant($"{scale} of {(x.Effect > 1 ? found : 1 / found):0.###} per step");

    private static double Variance(ExposureAssumptions x) => x.Sd * x.Sd;

    private static double Design(ExposureAssumptions x) => DesignEffect.OfSlope(Math.Max(1, x.RowsPerParticipant), x.OutcomeCorrelation, x.ExposureCorrelation);
}
