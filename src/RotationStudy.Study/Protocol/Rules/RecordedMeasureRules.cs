namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of changes over time and of grades, which come straight from a table.</summary>
internal static class RecordedMeasureRules
{
    internal static ValueNature? CheckChange(ChangePerYearMeasure measure, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "table", measure.Table);
        ColumnDefinition? column = context.Column(measure.Place, "column", table, measure.Column);
        ValueMeasureRules.CheckMethod(measure, measure.MethodColumn, measure.Method, table, context);
        ValueMeasureRules.CheckGate(measure, measure.HipGate, table, context);
        CheckDay(measure, table, context);
        if (measure.LeastDays < 1)
            context.Fault(measure.Place, "least_days", "Readings of one day show no change over time.", "Write a whole number of days from 1.");
        if (table is null || column is null)
            return null;
        if (!ColumnRules.IsNumeric(column))
        {
            context.Fault(measure.Place, "column", $"Column '{column.Name}' holds no numbers.", "Name a column of numbers.");
            return null;
        }
        string unit = column.Unit is null ? "per year" : $"{column.Unit} per year";
        MeasureRules.SameUnit(measure, unit, context);
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], unit);
    }

    internal static ValueNature? CheckGrade(GradeMeasure measure, RuleContext context)
    {
        if (ValueMeasureRules.Check(measure.Value, context) is not { } nature)
            return null;
        if (nature.Kind != ValueKind.Code)
        {
            context.Fault(measure.Place, "column", $"Column '{measure.Value.Column}' holds no codes to grade.", "Name a column of type code.");
            return null;
        }
        string[] named = [.. measure.Grades.SelectMany(g => g.Codes), .. measure.Apart];
        foreach (string stranger in named.Except(nature.Codes))
            context.Fault(measure.Place, "grades", $"Column '{measure.Value.Column}' has no code '{stranger}'.", Reading.NearestName.Hint(stranger, nature.Codes));
        foreach (string twice in named.GroupBy(c => c).Where(g => g.Count() > 1).Select(g => g.Key))
            context.Fault(measure.Place, "grades", $"The code '{twice}' belongs to two grades.", "Name each code once.");
        foreach (string forgotten in nature.Codes.Except(named))
            context.Fault(measure.Place, "grades", $"The code '{forgotten}' belongs to no grade.", "Add it to a grade, or to 'apart' when it is no grade of the scale.");
        if (measure.Grades.Length < 2)
            context.Fault(measure.Place, "grades", "A scale has at least two grades.", "List the grades, lowest first.");
        context.Unique(measure.Grades.Select((g, i) => (g.Label, measure.Place, $"grades[{i}].label")), "grade");
        return new ValueNature(nature.Level, ValueKind.Code, [.. measure.Grades.Select(g => g.Label)], null);
    }

    private static void CheckDay(ChangePerYearMeasure measure, TableDefinition? table, RuleContext context)
    {
        TableDefinition? dayTable = measure.DayTable is null ? table : context.Table(measure.Place, "day_table", measure.DayTable);
        ColumnDefinition? day = context.Column(measure.Place, "day_column", dayTable, measure.DayColumn);
        if (day is not null && day.Unit != "days")
            context.Fault(measure.Place, "day_column", $"Column '{day.Name}' is in {day.Unit ?? "no unit"}, not in days.", "Name the column of days since enrolment.");
        if (measure.DayTable is null || table is null || dayTable is null)
            return;
        if (table.Column(ColumnRole.Visit) is null || dayTable.LevelOf(oneVisit: false) != RowLevel.Visit)
        {
            context.Fault(
                measure.Place, "day_table", $"'{measure.DayTable}' does not give one day for each visit of '{measure.Table}'.",
                "Name the table of visits, or leave 'day_table' out when the readings carry their day.");
        }
    }
}
