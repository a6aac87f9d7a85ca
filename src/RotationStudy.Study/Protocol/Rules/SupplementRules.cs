using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of what a question asks for beside its planned answer.</summary>
internal static class SupplementRules
{
    internal static void Check(QuestionDefinition question, RuleContext context)
    {
        CheckSensitivity(question, context);
        if (question.NegativeControl is { } control
            && QuestionRules.Covering(question, "negative_control.outcome", control.Outcome, context) is { } nature
            && !QuestionRules.SuitsOutcome(question.Kind, nature).Suits)
        {
            context.Fault(
                question.Place, "negative_control.outcome", $"'{control.Outcome}' cannot be the outcome of a question of this kind.",
                $"Name {QuestionRules.SuitsOutcome(question.Kind, nature).Needed}.");
        }
        if (question.ShapeKnots is < 3 or > 5)
            context.Fault(question.Place, "shape_knots", "A curve needs 3, 4 or 5 knots.", "Write 4, or 3 where there are few events.");
        CheckMissingData(question, context);
    }

    private static void CheckSensitivity(QuestionDefinition question, RuleContext context)
    {
        context.Unique(question.Sensitivity.Select((s, i) => (s.Name, question.Place, $"sensitivity[{i}].name")), "analysis");
        for (int i = 0; i < question.Sensitivity.Length; i++)
        {
            SensitivityAnalysis analysis = question.Sensitivity[i];
            string here = $"sensitivity[{i}]";
            if (analysis.ChangesNothing)
            {
                context.Fault(
                    question.Place, $"{here}.name", $"'{analysis.Name}' changes nothing.",
                    "Give 'leave_out', 'add', 'replace', 'keep', 'model' or 'split_at'.");
            }
            ChoiceOptionRules.CheckSwaps(analysis.Replace, here, question.Place, question, context, codesForNumbers: true);
            ChoiceOptionRules.CheckAdjustment(analysis.LeaveOut, analysis.Add, here, question.Place, question, context);
            ChoiceOptionRules.CheckModel(analysis.Model, here, question.Place, question, context);
            CheckSplit(question, analysis, $"{here}.split_at", context);
            if (analysis.Keep is { } keep)
                QuestionRules.CheckKeep(question, $"sensitivity[{i}].keep", keep, context);
        }
    }

    private static void CheckSplit(QuestionDefinition question, SensitivityAnalysis analysis, string path, RuleContext context)
    {
        if (analysis.SplitAt is not { } at)
            return;
        if (question.Kind != QuestionKind.TimeToFirst || analysis.Model is not null)
            context.Fault(question.Place, path, "Only hazard ratios of a time to a first event can be split.", "Remove 'split_at'.");
        if (at <= 0)
            context.Fault(question.Place, path, "Follow-up is split after it has begun.", "Write a time above 0, in the time unit of the question.");
    }

    private static void CheckMissingData(QuestionDefinition question, RuleContext context)
    {
        if (question.MissingData is not { } plan)
            return;
        if (question.Rows is not (RowLevel.Participant or RowLevel.Unit))
            context.Fault(question.Place, "missing_data", "Repeated rows are not imputed.", "Ask for it where rows are participants or units.");
        if (plan.Imputations < 2)
            context.Fault(question.Place, "missing_data.imputations", "One imputation shows no uncertainty.", "Write 20, or the per cent of incomplete rows.");
        string[] terms = [.. new[] { question.Outcome }.OfType<string>(), .. question.Exposures.Select(e => e.Measure), .. question.Adjustment.Select(a => a.Measure)];
        if (plan.Shift.Length > 0 && !terms.Contains(plan.Shift))
        {
            context.Fault(
                question.Place, "missing_data.shift", $"'{plan.Shift}' is no outcome and no term of {question.Id}.", NearestName.Hint(plan.Shift, terms));
        }
        else if (context.Measure(question.Place, "missing_data.shift", plan.Shift) is { IsNumeric: false })
            context.Fault(question.Place, "missing_data.shift", $"'{plan.Shift}' has no numbers to shift.", "Name a measure of numbers.");
    }
}
