namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the errors of terms: the term is in the model by itself, and the error is that of its own readings or a number with a source.</summary>
internal static class MeasurementErrorRules
{
    internal static void Check(QuestionDefinition question, RuleContext context)
    {
        for (int i = 0; i < question.MeasurementError.Length; i++)
        {
            MeasurementErrorPlan plan = question.MeasurementError[i];
            string at = $"measurement_error[{i}]";
            CheckTerm(question, plan, at, context);
            if ((plan.From is null) == (plan.ErrorSd is null))
                context.Fault(question.Place, $"{at}.measure", $"The error of '{plan.Measure}' needs one origin.", "Give 'from' (a question of kind agreement) or 'error_sd' with 'degrees_of_freedom' and 'source'.");
            else if (plan.From is null)
                CheckNumber(question, plan, at, context);
            else
                CheckFrom(question, plan, at, context);
        }
        context.Unique(question.MeasurementError.Select((p, i) => (p.Measure, question.Place, $"measurement_error[{i}].measure")), "measure with error");
    }

    private static void CheckTerm(QuestionDefinition question, MeasurementErrorPlan plan, string at, RuleContext context)
    {
        string[] terms = [.. question.Exposures.Select(e => e.Measure), .. question.Adjustment.Select(a => a.Measure)];
        if (plan.Measure.Length > 0 && !terms.Contains(plan.Measure))
            context.Fault(question.Place, $"{at}.measure", $"'{plan.Measure}' is no term of {question.Id}.", Reading.NearestName.Hint(plan.Measure, terms));
        else if (context.Measure(question.Place, $"{at}.measure", plan.Measure) is { IsNumeric: false })
            context.Fault(question.Place, $"{at}.measure", $"'{plan.Measure}' holds codes; regression calibration is for numbers.", "Leave it out: codes are misclassified, not measured with error.");
        if (question.Interactions.Any(t => t.First == plan.Measure || t.Second == plan.Measure))
            context.Fault(question.Place, $"{at}.measure", $"'{plan.Measure}' is part of a product, whose error is not that of a sum.", "Leave the interaction or the correction out.");
    }

    private static void CheckNumber(QuestionDefinition question, MeasurementErrorPlan plan, string at, RuleContext context)
    {
        if (plan.ErrorSd <= 0)
            context.Fault(question.Place, $"{at}.error_sd", "The standard deviation of an error is above zero.", "Write it in the unit of the measure.");
        if (plan.DegreesOfFreedom is not > 0)
            context.Fault(question.Place, plan.DegreesOfFreedom is null ? $"{at}.error_sd" : $"{at}.degrees_of_freedom", "How surely the error is known is not said.", "Write 'degrees_of_freedom': subjects of the reliability study, times readings of each less one.");
        if (plan.ErrorSource is null)
            context.Fault(question.Place, $"{at}.error_sd", "The error has no source.", "Write 'source': the study or the publication that it comes from.");
    }

    private static void CheckFrom(QuestionDefinition question, MeasurementErrorPlan plan, string at, RuleContext context)
    {
        foreach ((string key, bool given) in new[] { ("degrees_of_freedom", plan.DegreesOfFreedom is not null), ("source", plan.ErrorSource is not null) })
        {
            if (given)
                context.Fault(question.Place, $"{at}.{key}", $"'{key}' belongs to an error given as a number.", "Remove it: the readings tell it.");
        }
        QuestionDefinition? agreement = context.Protocol.Plan.Questions.FirstOrDefault(q => q.Id == plan.From);
        if (agreement?.Kind != QuestionKind.Agreement)
        {
            string[] ids = [.. context.Protocol.Plan.Questions.Where(q => q.Kind == QuestionKind.Agreement).Select(q => q.Id)];
            context.Fault(question.Place, $"{at}.from", $"No question of kind agreement is called '{plan.From}'.", ids.Length == 0 ? "Ask one, or give 'error_sd'." : Reading.NearestName.Hint(plan.From!, ids));
            return;
        }
        bool same = context.Protocol.Measures.FirstOrDefault(m => m.Id == plan.Measure) is ValueMeasure value
            && agreement.Readings is { } readings && readings.Table == value.Table && readings.Column == value.Column;
        if (!same && agreement.Readings is { } other)
            context.Fault(question.Place, $"{at}.from", $"{agreement.Id} reads '{other.Table}.{other.Column}', which is not where '{plan.Measure}' comes from.", "Name the question that reads the column of this measure, or give 'error_sd' for a measure that is derived from others.");
    }
}
