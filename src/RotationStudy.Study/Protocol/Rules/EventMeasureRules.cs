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
        TableDefinition? events = measure.Events is null ? null : CheckEvents(measure, measure.Events, "events", context);
        if (!CheckEntry(measure, column, context))
            return null;
        if (table is null || column is null || (measure.Events is not null && events is null))
            return null;
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], column.Unit);
    }

    internal static ValueNature? Check(MeasureDefinition measure, EventSelection selection, string followUp, ValueKind kind, RuleContext context)
    {
        if (Bounds(measure, selection, "events", followUp, context) is not { } bounds)
            return null;
        if (kind == ValueKind.Number)
            MeasureRules.SameUnit(measure, bounds.Unit, context);
        return bounds with { Kind = kind, Unit = measure.Unit };
    }

    /// <summary>The follow-up that bounds an event of the same rows; null after a fault.</summary>
    internal static ValueNature? Bounds(MeasureDefinition measure, EventSelection selection, string path, string followUp, RuleContext context)
    {
        TableDefinition? events = CheckEvents(measure, selection, path, context);
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
                "Let the follow-up end at events of the same table, or give it an entry with sides.");
        }
        return bounds;
    }

    private static bool CheckEntry(FollowUpMeasure measure, ColumnDefinition? lastContact, RuleContext context)
    {
        if (measure.Entry is not { } entry)
            return true;
        if (context.MeasureAbove(measure, "entry", entry) is not { } nature)
            return false;
        if (context.Protocol.Measures.First(m => m.Id == entry) is EntryMeasure && nature.Unit == lastContact?.Unit)
            return true;
        context.Fault(
            measure.Place, "entry", $"Measure '{entry}' is no day of entry in the unit of the follow-up.",
            "Name a measure of kind entry.");
        return false;
    }

    /// <summary>Table, columns and codes of an event; null after a fault of the table.</summary>
    internal static TableDefinition? CheckEvents(MeasureDefinition measure, EventSelection events, string path, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, $"{path}.table", events.Table);
        ColumnDefinition? column = context.CodeColumn(measure.Place, $"{path}.column", table, events.Column);
        for (int i = 0; i < events.Codes.Length; i++)
            context.Code(measure.Place, $"{path}.codes[{i}]", column, events.Codes[i]);
        if (events.Where is { } where)
        {
            ColumnDefinition? second = context.CodeColumn(measure.Place, $"{path}.where.column", table, where.Column);
            for (int i = 0; i < where.Codes.Length; i++)
                context.Code(measure.Place, $"{path}.where.codes[{i}]", second, where.Codes[i]);
        }
        if (events.FromNumber < 1)
            context.Fault(measure.Place, $"{path}.from_number", "Events are numbered from 1.", "Write 1 for all events, 2 for those after the first.");
        if (events.Side != EventSide.This && table is not null && !table.LevelOf(oneVisit: false).HasSides())
            context.Fault(measure.Place, $"{path}.side", $"Table '{table.Name}' has no sides.", "Remove 'side'.");
        if (events.MergeWithinDays < 0)
        {
            context.Fault(
                measure.Place, $"{path}.merge_within_days", "Days must not be negative.",
                "Write 0 to merge reports of one day only.");
        }
        if (table is not null && table.Column(ColumnRole.Day) is null)
        {
            context.Fault(
                measure.Place, $"{path}.table", $"Table '{table.Name}' has no column of role day.",
                "Name a table of events with their days.");
        }
        return table;
    }
}
