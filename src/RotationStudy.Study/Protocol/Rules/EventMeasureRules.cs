namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of follow-up and of what happens within it.</summary>
internal static class EventMeasureRules
{
    internal static ValueNature? CheckFollowUp(FollowUpMeasure measure, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "last_contact_table", measure.LastContactTable);
        ColumnDefinition? column = context.Column(measure.Place, "last_contact_column", table, measure.LastContactColumn);
        if (table is not null && table.LevelOf(oneVisit: false) != RowLevel.Participant)
        {
            context.Fault(
                measure.Place, "last_contact_table",
                $"Table '{table.Name}' has more than one row per participant.", "Name the roster.");
        }
        if (column is not null && !ColumnRules.IsNumeric(column))
        {
            context.Fault(
                measure.Place, "last_contact_column", $"Column '{column.Name}' holds no days.",
                "Name a column of days since enrolment.");
        }
        else if (column is not null)
            MeasureRules.SameUnit(measure, column.Unit, context);
        TableDefinition? events = measure.Events is null ? null : CheckEvents(measure, measure.Events, context);
        if (table is null || column is null || (measure.Events is not null && events is null))
            return null;
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], column.Unit);
    }

    internal static ValueNature? Check(MeasureDefinition measure, EventSelection selection, string followUp, ValueKind kind, RuleContext context)
    {
        TableDefinition? events = CheckEvents(measure, selection, context);
        if (context.MeasureAbove(measure, "follow_up", followUp) is not { } bounds)
            return null;
        if (context.Protocol.Measures.First(m => m.Id == followUp) is not FollowUpMeasure)
        {
            context.Fault(
                measure.Place, "follow_up", $"Measure '{followUp}' is no follow-up.",
                "Name a measure of kind follow_up.");
            return null;
        }
        if (events is null)
            return null;
        if (events.LevelOf(oneVisit: false).HasSides() != bounds.Level.HasSides())
        {
            context.Fault(
                measure.Place, "follow_up",
                $"Events of '{events.Name}' and follow-up '{followUp}' do not belong to the same rows: one has sides, the other has none.",
                "Let the follow-up end at events of the same table.");
        }
        if (kind == ValueKind.Number)
            MeasureRules.SameUnit(measure, bounds.Unit, context);
        return bounds with { Kind = kind, Unit = measure.Unit };
    }

    private static TableDefinition? CheckEvents(MeasureDefinition measure, EventSelection events, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "events.table", events.Table);
        ColumnDefinition? column = context.CodeColumn(measure.Place, "events.column", table, events.Column);
        for (int i = 0; i < events.Codes.Length; i++)
            context.Code(measure.Place, $"events.codes[{i}]", column, events.Codes[i]);
        if (events.MergeWithinDays < 0)
        {
            context.Fault(
                measure.Place, "events.merge_within_days", "Days must not be negative.",
                "Write 0 to merge reports of one day only.");
        }
        if (table is not null && table.Column(ColumnRole.Day) is null)
        {
            context.Fault(
                measure.Place, "events.table", $"Table '{table.Name}' has no column of role day.",
                "Name a table of events with their days.");
        }
        return table;
    }
}
