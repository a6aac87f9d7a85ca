using System.Collections.Immutable;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of one option: what it names exists, suits the question, and gives an estimate that can stand beside the planned one.</summary>
internal static class ChoiceOptionRules
{
    internal static void Check(ChoiceOption option, string path, Place place, QuestionDefinition question, RuleContext context)
    {
        CheckSwaps(option.Replace, path, place, question, context);
        CheckAdjustment(option.LeaveOut, option.Add, path, place, question, context);
        CheckModel(option.Model, path, place, question, context);
        if (option.MergeWithinDays is < 0)
            context.Fault(place, $"{path}.merge_within_days", "A window of days cannot be negative.", "Write 0 or more.");
        if (option.HipGate is not null && context.Protocol.Plan.HipGate is null)
            context.Fault(place, $"{path}.hip_gate", "The plan has no hip-first gate to change.", "Remove 'hip_gate'.");
        if (option.Keep is { } keep && Covering(place, $"{path}.keep.measure", keep.Measure, question, context) is { } kept)
        {
            for (int i = 0; i < keep.Codes.Length; i++)
            {
                if (!kept.Codes.Contains(keep.Codes[i]))
                {
                    context.Fault(
                        place, $"{path}.keep.codes[{i}]", $"Measure '{keep.Measure}' has no code '{keep.Codes[i]}'.", NearestName.Hint(keep.Codes[i], kept.Codes));
                }
            }
        }
    }

    /// <summary>Measures that stand in for others. Groups may stand for the number that they cut only where the estimate needs no common axis.</summary>
    internal static void CheckSwaps(
        ImmutableArray<MeasureSwap> swaps, string path, Place place, QuestionDefinition question, RuleContext context, bool codesForNumbers = false)
    {
        string[] named = [.. Named(question)];
        for (int i = 0; i < swaps.Length; i++)
        {
            MeasureSwap swap = swaps[i];
            string here = $"{path}.replace[{i}]";
            if (swap.Measure.Length > 0 && !named.Contains(swap.Measure))
                context.Fault(place, $"{here}.measure", $"Question {question.Id} does not use '{swap.Measure}'.", NearestName.Hint(swap.Measure, named));
            if (swap.By.Length > 0 && named.Contains(swap.By))
                context.Fault(place, $"{here}.by", $"Question {question.Id} uses '{swap.By}' already.", "Leave the other term out, or name another measure.");
            if (Covering(place, $"{here}.by", swap.By, question, context) is { } by
                && context.Measure(place, $"{here}.measure", swap.Measure) is { } planned
                && (codesForNumbers ? planned.Kind == ValueKind.Code && by.Kind != ValueKind.Code : (by.Kind == ValueKind.Code) != (planned.Kind == ValueKind.Code)))
            {
                context.Fault(place, $"{here}.by", $"'{swap.By}' cannot stand in for '{swap.Measure}': one has codes, the other numbers.", "Name a measure of the same kind of values.");
            }
        }
    }

    /// <summary>Adjustment terms left out and added.</summary>
    internal static void CheckAdjustment(
        ImmutableArray<string> leaveOut, ImmutableArray<AdjustmentTerm> add, string path, Place place, QuestionDefinition question, RuleContext context)
    {
        string[] planned = [.. question.Adjustment.Select(a => a.Measure)];
        for (int i = 0; i < leaveOut.Length; i++)
        {
            if (!planned.Contains(leaveOut[i]))
            {
                context.Fault(
                    place, $"{path}.leave_out[{i}]", $"Question {question.Id} is not adjusted for '{leaveOut[i]}'.", NearestName.Hint(leaveOut[i], planned));
            }
        }
        string[] named = [.. Named(question)];
        for (int i = 0; i < add.Length; i++)
        {
            string measure = add[i].Measure;
            if (named.Contains(measure))
                context.Fault(place, $"{path}.add[{i}].measure", $"Question {question.Id} uses '{measure}' already.", "Remove it here.");
            if (Covering(place, $"{path}.add[{i}].measure", measure, question, context) is { } nature
                && add[i].Reference is { } reference && !nature.Codes.Contains(reference))
            {
                context.Fault(place, $"{path}.add[{i}].reference", $"Measure '{measure}' has no code '{reference}'.", NearestName.Hint(reference, nature.Codes));
            }
            if (add[i].Per == 0)
                context.Fault(place, $"{path}.add[{i}].per", "An effect per 0 means nothing.", "Write the step, such as 10.");
        }
    }

    /// <summary>Another model: its fields, and whether its estimate can stand beside the planned one.</summary>
    internal static void CheckModel(ModelChoice? choice, string path, Place place, QuestionDefinition question, RuleContext context)
    {
        if (choice is not { } model)
            return;
        path += ".model";
        if (IsRatio(model.Kind) is not { } ratio || ratio != IsRatio(question.Kind))
        {
            context.Fault(
                place, $"{path}.kind", $"An estimate of kind '{model.Kind}' cannot stand on one axis with those of {question.Id}.",
                "Ratios go with odds, rate, time_to_first and all_events; differences with mean and trajectory.");
            return;
        }
        (string Key, string? Id, bool Needed)[] fields =
        [
            ("outcome", model.Outcome, model.Kind is QuestionKind.Mean or QuestionKind.Trajectory or QuestionKind.Odds or QuestionKind.Rate
                or QuestionKind.OrderedOdds or QuestionKind.WithinPerson or QuestionKind.RecurrentEvents),
            ("follow_up", model.FollowUp, model.Kind is QuestionKind.Rate or QuestionKind.RecurrentEvents),
            ("entry", model.Entry, model.Kind == QuestionKind.AllEvents),
            ("exit", model.Exit, model.Kind is QuestionKind.TimeToFirst or QuestionKind.AllEvents or QuestionKind.CompetingEvents),
            ("event", model.Event, model.Kind is QuestionKind.TimeToFirst or QuestionKind.AllEvents or QuestionKind.CompetingEvents or QuestionKind.RecurrentEvents),
        ];
        foreach ((string key, string? id, bool needed) in fields)
        {
            if (needed && id is null)
                context.Fault(place, path, $"A model of kind '{model.Kind}' needs '{key}'.", "Name the measure.");
            else if (id is not null && !needed && !(key == "entry" && model.Kind == QuestionKind.TimeToFirst))
                context.Fault(place, $"{path}.{key}", $"A model of kind '{model.Kind}' does not use '{key}'.", "Remove it.");
            else
                Covering(place, $"{path}.{key}", id, question, context);
        }
        if (model.Counts != CountDistribution.NegativeBinomial && model.Kind != QuestionKind.Rate)
            context.Fault(place, $"{path}.counts", "Only a rate has a distribution of counts.", "Remove 'counts'.");
    }

    /// <summary>Whether estimates of a kind are ratios; null where it has no estimate.</summary>
    private static bool? IsRatio(QuestionKind kind) => kind switch
    {
        QuestionKind.Odds or QuestionKind.Rate or QuestionKind.TimeToFirst or QuestionKind.AllEvents
            or QuestionKind.OrderedOdds or QuestionKind.CompetingEvents or QuestionKind.WithinPerson or QuestionKind.RecurrentEvents => true,
        QuestionKind.Mean or QuestionKind.Trajectory => false,
        _ => null,
    };

    private static IEnumerable<string> Named(QuestionDefinition question)
        => new[] { question.Outcome, question.FollowUp, question.Entry, question.Exit, question.Event }.OfType<string>()
            .Concat(question.Exposures.Select(e => e.Measure)).Concat(question.Adjustment.Select(a => a.Measure));

    private static ValueNature? Covering(Place place, string path, string? id, QuestionDefinition question, RuleContext context)
    {
        if (context.Measure(place, path, id) is not { } nature)
            return null;
        if (nature.Level.CoversRowsOf(question.Rows))
            return nature;
        context.Fault(
            place, path, $"Measure '{id}' has one value per {ValueNature.Words(nature.Level)}, but a row of {question.Id} is one per {ValueNature.Words(question.Rows)}.",
            "Name a measure that has a value for every row.");
        return null;
    }
}
