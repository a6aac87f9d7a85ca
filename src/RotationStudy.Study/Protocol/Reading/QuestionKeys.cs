using System.Collections.Frozen;
using System.Text.Json;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Which keys a kind of question must have, and which it may have. All others are faults.</summary>
internal sealed class QuestionKeys
{
    private static readonly string[] OfEveryModel = ["adjustment", "interactions", "sensitivity", "shape_knots", "subgroups"];

    private static readonly FrozenDictionary<QuestionKind, QuestionKeys> ByKind = new Dictionary<QuestionKind, QuestionKeys>
    {
        [QuestionKind.Baseline] = new(QuestionKind.Baseline, ["characteristics"], ["group_by"]),
        [QuestionKind.Mean] = new(QuestionKind.Mean, ["outcome", "exposures", "family"], [.. OfEveryModel, "negative_control", "missing_data", "measurement_error"]),
        [QuestionKind.Trajectory] = new(QuestionKind.Trajectory, ["outcome", "exposures", "family"], [.. OfEveryModel, "random_slope"]),
        [QuestionKind.Odds] = new(QuestionKind.Odds, ["outcome", "exposures", "family"], [.. OfEveryModel, "negative_control", "missing_data", "measurement_error"]),
        [QuestionKind.Rate] = new(
            QuestionKind.Rate, ["outcome", "follow_up", "exposures", "family", "time_unit_days", "time_unit"], [.. OfEveryModel, "group_by", "negative_control", "missing_data", "measurement_error"]),
        [QuestionKind.TimeToFirst] = new(
            QuestionKind.TimeToFirst, ["exit", "event", "exposures", "family", "time_unit_days", "time_unit"],
            ["entry", .. OfEveryModel, "group_by", "missing_data", "measurement_error"]),
        [QuestionKind.AllEvents] = new(
            QuestionKind.AllEvents, ["entry", "exit", "event", "exposures", "family", "time_unit_days", "time_unit"], [.. OfEveryModel, "group_by"]),
        [QuestionKind.Agreement] = new(QuestionKind.Agreement, ["readings"], ["reference", "group_by"]),
        [QuestionKind.Curves] = new(QuestionKind.Curves, ["curves"], ["group_by", "summaries"]),
        [QuestionKind.OrderedOdds] = new(QuestionKind.OrderedOdds, ["outcome", "exposures", "family"], OfEveryModel),
        [QuestionKind.CompetingEvents] = new(
            QuestionKind.CompetingEvents, ["exit", "event", "exposures", "family", "time_unit_days", "time_unit"], [.. OfEveryModel, "group_by"]),
        [QuestionKind.RecurrentEvents] = new(
            QuestionKind.RecurrentEvents, ["outcome", "follow_up", "event", "exposures", "family", "time_unit_days", "time_unit"], [.. OfEveryModel, "group_by"]),
        [QuestionKind.WithinPerson] = new(QuestionKind.WithinPerson, ["outcome", "exposures", "family"], OfEveryModel),
    }.ToFrozenDictionary();

    private readonly QuestionKind kind;
    private readonly FrozenSet<string> required;
    private readonly FrozenSet<string> allowed;

    private QuestionKeys(QuestionKind kind, string[] required, string[] optional)
    {
        this.kind = kind;
        this.required = required.ToFrozenSet(StringComparer.Ordinal);
        allowed = required.Concat(optional).ToFrozenSet(StringComparer.Ordinal);
    }

    private string KindWord => JsonNamingPolicy.SnakeCaseLower.ConvertName(kind.ToString());

    internal static QuestionKeys Of(QuestionKind kind) => ByKind[kind];

    /// <summary>Whether the kind uses the key. Reports a key that is missing or has no use.</summary>
    internal bool Uses(YamlSection section, string key)
    {
        if (required.Contains(key))
            section.Need(key, $"A question of kind '{KindWord}' needs it.");
        if (allowed.Contains(key))
            return true;
        if (section.Has(key))
        {
            // Looked up so that the fault points at the value and the key does not count as unknown as well.
            section.Touch(key);
            section.Fault(key, $"A question of kind '{KindWord}' does not use '{key}'.", "Remove it, or choose the kind that uses it.");
        }
        return false;
    }

    /// <summary>The text of a key that names something, or null.</summary>
    internal string? Name(YamlSection section, string key) => Uses(section, key) ? section.OptionalText(key) : null;
}
