namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of entry, competing events and what comes after an event.</summary>
internal static class CourseMeasureRules
{
    private const string Weeks = "weeks";
    private const string Days = "days";

    internal static ValueNature? Check(EntryMeasure measure, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "table", measure.Table);
        if (table is null || context.Column(measure.Place, "column", table, measure.Column) is not { } column)
            return null;
        if (table.LevelOf(oneVisit: false) is not (RowLevel.Unit or RowLevel.Participant) || table.Column(ColumnRole.Participant) is null)
        {
            context.Fault(
                measure.Place, "table", $"Table '{table.Name}' has more than one row per side or participant.",
                "Name a table with one row for each.");
        }
        if (!ColumnRules.IsNumeric(column))
            context.Fault(measure.Place, "column", $"Column '{column.Name}' holds no days.", "Name a column of days since enrolment.");
        MeasureRules.SameUnit(measure, column.Unit, context);
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], column.Unit);
    }

    internal static ValueNature? Check(FirstOfMeasure measure, RuleContext context)
    {
        ValueNature? bounds = null;
        for (int i = 0; i < measure.Outcomes.Length; i++)
            bounds = EventMeasureRules.Bounds(measure, measure.Outcomes[i].Events, $"outcomes[{i}].events", measure.FollowUp, context) ?? bounds;
        context.Unique(measure.Outcomes.Select((o, i) => (o.Label, measure.Place, $"outcomes[{i}].label")), "label");
        if (measure.Outcomes.Length < 2)
            context.Fault(measure.Place, "outcomes", "Fewer than two events cannot compete.", "List two or more, or use kind any_event.");
        if (bounds is null)
            return null;
        if (Ends(measure.FollowUp, context) is { } ending && measure.Outcomes.Any(o => o.Events.Table == ending.Table && o.Events.Codes.Any(ending.Codes.Contains)))
        {
            context.Fault(
                measure.Place, "follow_up", $"The follow-up '{measure.FollowUp}' ends at one of these events, so the others could never come after it.",
                "Name a follow-up that ends at none of them.");
        }
        return bounds with { Kind = ValueKind.Code, Codes = [.. FirstOfWords.Labels(measure)], Unit = null };
    }

    internal static ValueNature? Check(FirstOfDayMeasure measure, RuleContext context)
    {
        if (context.MeasureAbove(measure, "of", measure.Of) is not { } of)
            return null;
        if (context.Protocol.Measures.First(m => m.Id == measure.Of) is not FirstOfMeasure first)
        {
            context.Fault(measure.Place, "of", $"'{measure.Of}' is not of kind first_of.", "Name a measure of kind first_of.");
            return null;
        }
        string? unit = context.Protocol.Measure(first.FollowUp).Unit;
        MeasureRules.SameUnit(measure, unit, context);
        return of with { Kind = ValueKind.Number, Codes = [], Unit = unit };
    }

    internal static ValueNature? Check(AfterMeasure measure, RuleContext context)
    {
        ValueNature? bounds = EventMeasureRules.Bounds(measure, measure.Origin, "origin", measure.FollowUp, context);
        TableDefinition? table = context.Table(measure.Place, "until.table", measure.Until.Table);
        ColumnDefinition? column = measure.Until.Column is { } name ? context.CodeColumn(measure.Place, "until.column", table, name) : null;
        for (int i = 0; i < measure.Until.Codes.Length; i++)
            context.Code(measure.Place, $"until.codes[{i}]", column, measure.Until.Codes[i]);
        if (measure.Until.Column is null != measure.Until.Codes.IsEmpty)
            context.Fault(measure.Place, "until", "Column and codes of the rows waited for go together.", "Give both, or neither to take every row.");
        if (table is not null && table.Column(ColumnRole.Day) is null)
            context.Fault(measure.Place, "until.table", $"Table '{table.Name}' has no column of role day.", "Name a table of dated rows.");
        if (bounds is null || table is null)
            return null;
        if (bounds.Level.HasSides() && !table.LevelOf(oneVisit: false).HasSides())
            context.Fault(measure.Place, "until.table", $"Table '{table.Name}' has no sides.", "Name a table of the same rows as the event.");
        if (Ends(measure.FollowUp, context) is { } ending && ending.Table == measure.Origin.Table && ending.Codes.Any(measure.Origin.Codes.Contains))
        {
            context.Fault(
                measure.Place, "follow_up", $"The follow-up '{measure.FollowUp}' ends at the event from which time counts.",
                "Name a follow-up that goes on after it.");
        }
        if (measure.Value == AfterValue.ReachedAfter)
        {
            MeasureRules.SameUnit(measure, null, context);
            return bounds with { Kind = ValueKind.YesNo, Unit = null };
        }
        if (measure.Unit is not (Days or Weeks) || bounds.Unit != Days)
            context.Fault(measure.Place, "unit", "Times after an event are in days or weeks, counted from days.", "Write unit: days or unit: weeks.");
        return bounds with { Kind = ValueKind.Number, Unit = measure.Unit };
    }

    internal static ValueNature? Check(InOrderMeasure measure, RuleContext context)
    {
        ValueNature? nature = null;
        for (int i = 0; i < measure.Of.Length; i++)
        {
            if (MeasureRules.NumberAbove(measure, $"of[{i}]", measure.Of[i], context) is not { } of)
                return null;
            if (nature is not null && (nature.Level != of.Level || nature.Unit != of.Unit))
                context.Fault(measure.Place, $"of[{i}]", $"'{measure.Of[i]}' is not of the same rows and unit as '{measure.Of[0]}'.", "Name times of one kind.");
            nature ??= of;
        }
        if (measure.Of.Length < 2)
            context.Fault(measure.Place, "of", "An order needs two times or more.", "List them from first to last.");
        return nature is null ? null : nature with { Kind = ValueKind.Code, Codes = [.. InOrderWords.Labels], Unit = null };
    }

    private static EventSelection? Ends(string followUp, RuleContext context)
        => (context.Protocol.Measures.FirstOrDefault(m => m.Id == followUp) as FollowUpMeasure)?.Events;
}
