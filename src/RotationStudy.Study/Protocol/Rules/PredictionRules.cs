using System.Collections.Immutable;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of prediction.yaml: measures exist and cover the rows, risks are risks, and nothing can be declared that cannot be judged.</summary>
internal static class PredictionRules
{
    private const int FewestResamples = 50;

    internal static void Check(RuleContext context)
    {
        if (context.Protocol.Prediction is not { } plan)
            return;
        context.Unique(
            [
                .. context.Protocol.Plan.Questions.Select(q => (q.Id, q.Place, "id")),
                .. plan.Models.Select(m => (m.Id, m.Place, "id")),
                .. plan.Scores.Select(s => (s.Id, s.Place, "id")),
            ],
            "question, model or score");
        foreach (PredictionModel model in plan.Models)
            CheckModel(model, context);
        foreach (RiskScore score in plan.Scores)
            CheckScore(score, context);
    }

    private static void CheckModel(PredictionModel model, RuleContext context)
    {
        context.PlainName(model.Id, model.Place, "id");
        CheckOutcome(model.Outcome, model.Rows, model.Place, context);
        for (int i = 0; i < model.Predictors.Length; i++)
            CheckPredictor(model, i, context);
        context.Unique(model.Predictors.Select((p, i) => (p.Measure, model.Place, $"predictors[{i}].measure")), "predictor");
        CheckFilter(model.Keep, "keep", model.Rows, model.Place, context);
        CheckFilter(model.HoldOut, "hold_out", model.Rows, model.Place, context);
        CheckThresholds(model.Thresholds, model.Place, context);
        if (model.Folds < 2 && context.Written(model.Place, "folds"))
            context.Fault(model.Place, "folds", FormattableString.Invariant($"{model.Folds} folds hold nothing out."), "Write 5 or 10.");
        if (model.Resamples < FewestResamples && context.Written(model.Place, "resamples"))
            context.Fault(model.Place, "resamples", FormattableString.Invariant($"{model.Resamples} resamples give no steady correction."), "Write 200 or more.");
        if (model.Expected.Share is <= 0 or >= 1)
            context.Fault(model.Place, "expected.share", "A share lies between 0 and 1.", "Write 0.3 for 30%.");
        if (model.Expected.Nagelkerke is <= 0 or >= 0.9)
            context.Fault(model.Place, "expected.nagelkerke", "R squared of Nagelkerke must lie between 0 and 0.9.", "Write 0.15 or 0.2 where nothing better is known.");
    }

    private static void CheckPredictor(PredictionModel model, int at, RuleContext context)
    {
        AdjustmentTerm term = model.Predictors[at];
        string path = $"predictors[{at}].measure";
        if (term.Measure == model.Outcome)
            context.Fault(model.Place, path, $"'{term.Measure}' is the outcome itself.", "Remove it.");
        if (Covering(term.Measure, path, model.Rows, model.Place, context) is { } nature && term.Reference is { } reference && !nature.Codes.Contains(reference))
            context.Fault(model.Place, $"predictors[{at}].reference", $"Measure '{term.Measure}' has no code '{reference}'.", NearestName.Hint(reference, nature.Codes));
        if (term.Per == 0)
            context.Fault(model.Place, $"predictors[{at}].per", "A step of 0 is no step.", "Write 1, or a step that means something.");
    }

    private static void CheckScore(RiskScore score, RuleContext context)
    {
        context.PlainName(score.Id, score.Place, "id");
        CheckOutcome(score.Outcome, score.Rows, score.Place, context);
        CheckFilter(score.Keep, "keep", score.Rows, score.Place, context);
        CheckThresholds(score.Thresholds, score.Place, context);
        for (int i = 0; i < score.Factors.Length; i++)
            CheckFactor(score, score.Factors[i], $"factors[{i}]", context);
        int most = score.Factors.Sum(f => Math.Max(0, f.Points));
        for (int i = 0; i < score.Risks.Length; i++)
        {
            if (score.Risks[i].Risk is <= 0 or >= 1)
                context.Fault(score.Place, $"risks[{i}].risk", "A risk lies between 0 and 1.", "Write 0.55 for 55%.");
            if (score.Risks[i].Points < 0 || score.Risks[i].Points > most)
                context.Fault(score.Place, $"risks[{i}].points", FormattableString.Invariant($"The factors never add up to {score.Risks[i].Points} points."), FormattableString.Invariant($"They give 0 to {most}."));
        }
        context.Unique(score.Risks.Select((r, i) => (FormattableString.Invariant($"{r.Points} points"), score.Place, $"risks[{i}].points")), "risk of");
    }

    private static void CheckFactor(RiskScore score, ScoreFactor factor, string path, RuleContext context)
    {
        int rules = (factor.AtLeast is null ? 0 : 1) + (factor.MoreThan is null ? 0 : 1) + (factor.Below is null ? 0 : 1) + (factor.Codes.IsEmpty ? 0 : 1);
        if (rules != 1)
            context.Fault(score.Place, $"{path}.measure", $"Factor '{factor.Label}' has {rules} rules.", "Give one of at_least, more_than, below and codes.");
        if (factor.Points < 1)
            context.Fault(score.Place, $"{path}.points", "A factor gives one point or more.", "Remove 'points' for 1.");
        if (Covering(factor.Measure, $"{path}.measure", score.Rows, score.Place, context) is not { } nature)
            return;
        if (factor.OtherSide && !nature.Level.HasSides())
            context.Fault(score.Place, $"{path}.other_side", $"'{factor.Measure}' has no sides.", "Remove 'other_side', or name a measure with one value per side.");
        if (factor.Codes.IsEmpty != nature.IsNumeric)
            context.Fault(score.Place, $"{path}.measure", $"'{factor.Measure}' {(nature.IsNumeric ? "has numbers, not codes" : "has codes, not numbers")}.", "Choose the rule that suits it.");
        for (int i = 0; i < factor.Codes.Length && !nature.IsNumeric; i++)
        {
            if (!nature.Codes.Contains(factor.Codes[i]))
                context.Fault(score.Place, $"{path}.codes[{i}]", $"Measure '{factor.Measure}' has no code '{factor.Codes[i]}'.", NearestName.Hint(factor.Codes[i], nature.Codes));
        }
    }

    private static void CheckOutcome(string outcome, RowLevel rows, Place place, RuleContext context)
    {
        if (Covering(outcome, "outcome", rows, place, context) is { IsYesNo: false })
            context.Fault(place, "outcome", $"'{outcome}' is no measure of yes and no.", "Name a measure of kind any_event, or a column of two codes.");
    }

    private static void CheckFilter(RowFilter? filter, string path, RowLevel rows, Place place, RuleContext context)
    {
        if (filter is null || Covering(filter.Measure, $"{path}.measure", rows, place, context) is not { } nature)
            return;
        if (nature.Kind != ValueKind.Code)
        {
            context.Fault(place, $"{path}.measure", $"'{filter.Measure}' has no codes.", "Name a measure of codes or groups.");
            return;
        }
        for (int i = 0; i < filter.Codes.Length; i++)
        {
            if (!nature.Codes.Contains(filter.Codes[i]))
                context.Fault(place, $"{path}.codes[{i}]", $"Measure '{filter.Measure}' has no code '{filter.Codes[i]}'.", NearestName.Hint(filter.Codes[i], nature.Codes));
        }
    }

    private static void CheckThresholds(ImmutableArray<double> thresholds, Place place, RuleContext context)
    {
        for (int i = 0; i < thresholds.Length; i++)
        {
            if (thresholds[i] is <= 0 or >= 1)
                context.Fault(place, $"thresholds[{i}]", "A threshold lies between 0 and 1.", "Write 0.2 for 20%.");
            else if (i > 0 && thresholds[i] <= thresholds[i - 1])
                context.Fault(place, $"thresholds[{i}]", "Thresholds must rise.", "Put them in order.");
        }
    }

    private static ValueNature? Covering(string id, string path, RowLevel rows, Place place, RuleContext context)
    {
        if (context.Measure(place, path, id) is not { } nature)
            return null;
        if (nature.Level.CoversRowsOf(rows))
            return nature;
        context.Fault(
            place, path, $"Measure '{id}' has one value per {ValueNature.Words(nature.Level)}, but a row here is one per {ValueNature.Words(rows)}.",
            "Choose the rows, or a measure of one visit.");
        return null;
    }
}
