using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the questions: measures exist, their values suit the kind, and they have a value for every row.</summary>
internal static class QuestionRules
{
    internal static void Check(RuleContext context)
    {
        AnalysisPlan plan = context.Protocol.Plan;
        context.Unique(plan.Questions.Select(q => (q.Id, q.Place, "id")), "question");
        foreach (QuestionDefinition question in plan.Questions)
        {
            context.PlainName(question.Id, question.Place, "id");
            CheckRows(question, context);
            CheckOutcome(question, context);
            CheckGrouping(question, context);
            TermRules.Check(question, context);
            AgreementRules.Check(question, context);
            CurveRules.Check(question, context);
            MeasurementErrorRules.Check(question, context);
            RecurrentEventsRules.Check(question, context);
            SupplementRules.Check(question, context);
            CheckSubgroups(question, context);
            if (question.TimeUnitDays <= 0)
            {
                context.Fault(
                    question.Place, "time_unit_days", "A unit of time must be longer than nothing.",
                    "Write 365.25 for years, 1 where times are not days.");
            }
        }
    }

    /// <summary>The measure, when it has a value for every row of the question.</summary>
    internal static ValueNature? Covering(QuestionDefinition question, string path, string? id, RuleContext context)
    {
        if (context.Measure(question.Place, path, id) is not { } nature)
            return null;
        if (nature.Level.CoversRowsOf(question.Rows))
            return nature;
        context.Fault(
            question.Place,
            path,
            $"Measure '{id}' has one value per {ValueNature.Words(nature.Level)}, "
                + $"but a row of {question.Id} is one per {ValueNature.Words(question.Rows)}.",
            "Choose the rows, or a measure of one visit.");
        return null;
    }

    private static void CheckRows(QuestionDefinition question, RuleContext context)
    {
        bool known = question.Rows == RowLevel.Participant
            || context.Protocol.Tables
                .Select(t => t.LevelOf(oneVisit: false))
                .Any(level => level == question.Rows || (question.Rows == RowLevel.Unit && level.HasSides()))
            || (question.Rows == RowLevel.Week && context.Protocol.Measures.Any(m => m is WeeklyMeasure or WeeklyChangesMeasure));
        if (!known)
        {
            context.Fault(
                question.Place, "rows", $"No table has one row per {ValueNature.Words(question.Rows)}.",
                "Choose rows that a table has.");
        }
        if (question.Kind == QuestionKind.Trajectory && !question.Rows.HasOccasions())
            context.Fault(question.Place, "rows", "A trajectory needs repeated rows.", "Use visit, unit_visit or sequence.");
        if (question.Kind == QuestionKind.WithinPerson && question.Rows == RowLevel.Participant)
            context.Fault(question.Place, "rows", "A comparison within participants needs several rows of each.", "Use unit, visit, unit_visit or sequence.");
        if (question.Kind == QuestionKind.AllEvents && !question.Rows.HasOccasions())
        {
            context.Fault(
                question.Place, "rows", "A question of all events needs one row per interval at risk.",
                "Use sequence.");
        }
        if (question.Kind is QuestionKind.TimeToFirst or QuestionKind.CompetingEvents && question.Rows.HasOccasions())
        {
            context.Fault(
                question.Place, "rows", "A first event happens once, so rows must not be repeated.",
                "Use participant or unit.");
        }
    }

    private static void CheckOutcome(QuestionDefinition question, RuleContext context)
    {
        ValueNature? outcome = Covering(question, "outcome", question.Outcome, context);
        if (outcome is not null)
        {
            (bool suits, string needed) = SuitsOutcome(question.Kind, outcome);
            if (!suits)
            {
                context.Fault(
                    question.Place, "outcome",
                    $"'{question.Outcome}' cannot be the outcome of a question of this kind.",
                    $"Name {needed}.");
            }
        }
        foreach ((string path, string? id) in new[] { ("follow_up", question.FollowUp), ("entry", question.Entry), ("exit", question.Exit) })
        {
            if (Covering(question, path, id, context) is { IsNumeric: false })
                context.Fault(question.Place, path, $"'{id}' holds no times.", "Name a measure of times.");
        }
        if (question.Kind == QuestionKind.CompetingEvents)
        {
            if (Covering(question, "event", question.Event, context) is { } first && first.Codes.Length < 3)
            {
                context.Fault(
                    question.Place, "event", $"'{question.Event}' does not say which of several events came first.",
                    "Name a measure of kind first_of.");
            }
        }
        else if (Covering(question, "event", question.Event, context) is { IsYesNo: false })
        {
            context.Fault(
                question.Place, "event", $"'{question.Event}' does not say whether the exit is an event.",
                "Name a measure of kind any_event, or a column of two codes, no event first.");
        }
    }

    private static void CheckGrouping(QuestionDefinition question, RuleContext context)
    {
        if (Covering(question, "group_by", question.GroupBy, context) is { IsGrouping: false })
        {
            context.Fault(
                question.Place, "group_by", $"'{question.GroupBy}' makes no groups.",
                "Name a measure of codes, of kind groups, or of kind any_event.");
        }
        for (int i = 0; i < question.Characteristics.Length; i++)
            Covering(question, $"characteristics[{i}]", question.Characteristics[i], context);
        context.Unique(question.Characteristics.Select((c, i) => (c, question.Place, $"characteristics[{i}]")), "characteristic");
        if (question.Keep is { } keep)
            CheckKeep(question, "keep", keep, context);
    }

    private static void CheckSubgroups(QuestionDefinition question, RuleContext context)
    {
        context.Unique(question.Subgroups.Select((s, i) => (s, question.Place, $"subgroups[{i}]")), "subgroup");
        for (int i = 0; i < question.Subgroups.Length; i++)
        {
            if (Covering(question, $"subgroups[{i}]", question.Subgroups[i], context) is { IsGrouping: false })
                context.Fault(question.Place, $"subgroups[{i}]", $"'{question.Subgroups[i]}' makes no groups.", "Name a measure of codes, of kind groups, or of kind any_event.");
        }
    }

    /// <summary>Whether a measure can be the outcome of a kind, and what can.</summary>
    internal static (bool Suits, string Needed) SuitsOutcome(QuestionKind kind, ValueNature outcome) => kind switch
    {
        QuestionKind.Odds or QuestionKind.WithinPerson => (outcome.IsYesNo, "a measure of kind any_event, or a column of two codes"),
        QuestionKind.Rate or QuestionKind.RecurrentEvents => (outcome.Kind == ValueKind.WholeNumber, "a count"),
        QuestionKind.OrderedOdds => (outcome.Kind is ValueKind.WholeNumber or ValueKind.Code, "a score of whole numbers, or a measure of ordered codes"),
        _ => (outcome.IsNumeric, "a measure of numbers"),
    };

    /// <summary>Reports a population that its measure cannot name.</summary>
    internal static void CheckKeep(QuestionDefinition question, string path, RowFilter keep, RuleContext context)
    {
        if (Covering(question, $"{path}.measure", keep.Measure, context) is not { } kept)
            return;
        if (kept.Kind != ValueKind.Code)
        {
            context.Fault(
                question.Place, $"{path}.measure", $"'{keep.Measure}' has no codes.",
                "Name a measure of codes or groups.");
        }
        for (int i = 0; i < keep.Codes.Length && kept.Kind == ValueKind.Code; i++)
        {
            if (!kept.Codes.Contains(keep.Codes[i]))
            {
                context.Fault(
                    question.Place, $"{path}.codes[{i}]",
                    $"Measure '{keep.Measure}' has no code '{keep.Codes[i]}'.",
                    NearestName.Hint(keep.Codes[i], kept.Codes));
            }
        }
    }
}
