using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>Names of the checks that a plan may answer, and which check of the plan each is.</summary>
internal static class CheckNames
{
    internal const string EventsPerParameter = "Events per parameter";
    internal const string PersonsPerParameter = "Persons per parameter";
    internal const string ProportionalHazards = "Proportional hazards";
    internal const string Overdispersion = "Over-dispersion";
    internal const string Separation = "Separation";
    internal const string OneOddsRatio = "One odds ratio for all cuts";
    internal const string Collinearity = "Terms that say the same";
    internal const string Influence = "Influence of single persons";
    private const string StraightLine = "Straight line: ";

    /// <summary>Name of the check of one exposure's shape.</summary>
    internal static string Line(string label) => StraightLine + label;

    /// <summary>The check of the plan; null where a plan cannot answer it.</summary>
    internal static PlannedCheck? Of(string check) => check switch
    {
        EventsPerParameter or PersonsPerParameter => PlannedCheck.EventsPerParameter,
        ProportionalHazards => PlannedCheck.ProportionalHazards,
        Overdispersion => PlannedCheck.Overdispersion,
        Separation => PlannedCheck.Separation,
        OneOddsRatio => PlannedCheck.OneOddsRatio,
        Collinearity => PlannedCheck.Collinearity,
        Influence => PlannedCheck.Influence,
        _ when check.StartsWith(StraightLine, StringComparison.Ordinal) => PlannedCheck.Linearity,
        _ => null,
    };

    /// <summary>What a failed check makes of the answer, as a clause.</summary>
    internal static string Reading(string check) => Of(check) switch
    {
        PlannedCheck.EventsPerParameter => $"{(check == PersonsPerParameter ? "persons" : "events")} are few for the number of terms, so the estimates are exploratory",
        PlannedCheck.ProportionalHazards => "effects seem to change with time, so a ratio is an average over the follow-up",
        PlannedCheck.Overdispersion => "counts vary more than the model expects",
        PlannedCheck.Separation => "maximum likelihood has no answer here, so penalised likelihood stands in its place",
        PlannedCheck.OneOddsRatio => "odds ratios seem to differ between the cuts of the scale, so the one given is an average over them",
        PlannedCheck.Collinearity => "some terms say nearly the same, so their estimates can hardly be told apart",
        PlannedCheck.Influence => "one person moves an estimate far",
        PlannedCheck.Linearity => $"the relation with {Sentences.LowerFirst(check[StraightLine.Length..])} seems to bend, so its estimate is an average slope",
        _ => $"the check '{Sentences.LowerFirst(check)}' did not hold",
    };
}
