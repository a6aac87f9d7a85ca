namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of a question of recurrent events: a count whose days are known, within the follow-up that the question names.</summary>
internal static class RecurrentEventsRules
{
    internal static void Check(QuestionDefinition question, RuleContext context)
    {
        if (question.Kind != QuestionKind.RecurrentEvents)
            return;
        if (question.Rows.HasOccasions())
            context.Fault(question.Place, "rows", "A row has all its events here, so rows must not be repeated.", "Use participant or unit.");
        MeasureDefinition? outcome = context.Protocol.Measures.FirstOrDefault(m => m.Id == question.Outcome);
        MeasureDefinition? followUp = context.Protocol.Measures.FirstOrDefault(m => m.Id == question.FollowUp);
        if (outcome is not (null or EventCountMeasure))
            context.Fault(question.Place, "outcome", $"'{question.Outcome}' has no days of events.", "Name a measure of kind event_count.");
        if (outcome is EventCountMeasure count && followUp is not null && count.FollowUp != question.FollowUp)
        {
            context.Fault(
                question.Place, "follow_up", $"'{question.Outcome}' is counted within '{count.FollowUp}', not within '{question.FollowUp}'.",
                $"Write '{count.FollowUp}', or name a count within '{question.FollowUp}'.");
        }
    }
}
