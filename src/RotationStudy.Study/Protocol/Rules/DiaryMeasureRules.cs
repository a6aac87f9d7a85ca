namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of measures of weeks.</summary>
internal static class DiaryMeasureRules
{
    private const int WeekDays = 7;

    internal static ValueNature? Check(WeeklyMeasure measure, RuleContext context)
    {
        TableDefinition? table = Diary(measure, measure.Table, context);
        ColumnDefinition? column = NumberColumn(measure, "column", table, measure.Column, context);
        if (measure.Wear is { } wear)
        {
            ColumnDefinition? hours = NumberColumn(measure, "wear.column", table, wear.Column, context);
            if (hours is not null && hours.Unit != "hours")
                context.Fault(measure.Place, "wear.column", $"Column '{hours.Name}' is not in hours.", "Name the column of hours worn.");
        }
        if (measure.MinimumDays is < 1 or > WeekDays)
            context.Fault(measure.Place, "minimum_days", "A week has 1 to 7 days that can count.", "Write a number from 1 to 7.");
        if (table is null || column is null)
            return null;
        MeasureRules.SameUnit(measure, column.Unit, context);
        return new ValueNature(RowLevel.Week, ValueKind.Number, [], column.Unit);
    }

    internal static ValueNature? Check(WeeklyChangesMeasure measure, RuleContext context)
    {
        TableDefinition? table = Diary(measure, measure.Table, context);
        ColumnDefinition? column = context.CodeColumn(measure.Place, "column", table, measure.Column);
        for (int i = 0; i < measure.Codes.Length; i++)
            context.Code(measure.Place, $"codes[{i}]", column, measure.Codes[i]);
        MeasureRules.SameUnit(measure, null, context);
        return table is null || column is null ? null : new ValueNature(RowLevel.Week, ValueKind.WholeNumber, [], null);
    }

    internal static ValueNature? Check(OwnWeeksMeasure measure, RuleContext context)
    {
        if (MeasureRules.NumberAbove(measure, "of", measure.Of, context) is not { } of)
            return null;
        if (of.Level != RowLevel.Week)
            context.Fault(measure.Place, "of", $"'{measure.Of}' has one value per {ValueNature.Words(of.Level)}, not one per week.", "Name a measure of kind weekly.");
        MeasureRules.SameUnit(measure, of.Unit, context);
        return of with { Level = context.Protocol.LevelOf(measure), Kind = ValueKind.Number };
    }

    private static TableDefinition? Diary(MeasureDefinition measure, string name, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "table", name);
        if (table is null)
            return null;
        bool daily = table.Column(ColumnRole.Day) is { } day && table.Column(ColumnRole.Participant) is { } participant
            && table.Key.Length == 2 && table.Key.Contains(day.Name) && table.Key.Contains(participant.Name);
        if (daily)
            return table;
        context.Fault(measure.Place, "table", $"Table '{name}' does not have one row per participant and day.", "Name a diary.");
        return null;
    }

    private static ColumnDefinition? NumberColumn(MeasureDefinition measure, string path, TableDefinition? table, string name, RuleContext context)
    {
        if (context.Column(measure.Place, path, table, name) is not { } column)
            return null;
        if (ColumnRules.IsNumeric(column))
            return column;
        context.Fault(measure.Place, path, $"Column '{name}' holds no numbers.", "Name a column of numbers.");
        return null;
    }
}
