using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of checks.yaml: every name names something, columns fit the kind, units fit each other.</summary>
internal static class CheckRules
{
    internal static void Check(RuleContext context)
    {
        context.Unique(context.Protocol.Checks.Select(c => (c.Id, c.Place, "id")), "check");
        foreach (CheckDefinition check in context.Protocol.Checks)
        {
            context.PlainName(check.Id, check.Place, "id");
            TableDefinition? table = context.Table(check.Place, "table", check.Table);
            if (table is null)
                continue;
            if (check.Severity == Severity.SetAside && (table.IsRoster || check is LastDigitCheck))
            {
                context.Fault(
                    check.Place, "severity", table.IsRoster ? "A check cannot set a participant aside." : "A habit of a rater sets no row aside.",
                    "Use ask_the_site or note.");
            }
            CheckKind(context, check, table);
        }
    }

    private static void CheckKind(RuleContext context, CheckDefinition check, TableDefinition table)
    {
        switch (check)
        {
            case LastDigitCheck c:
                LastDigit(context, c, table);
                break;
            case RequiredIfCheck c:
                Condition(context, c.Place, "when", table, c.When);
                Codes(context, c.Place, "codes", c.Codes.IsEmpty ? Any(context, c.Place, table, c.Column) : context.CodeColumn(c.Place, "column", table, c.Column), c.Codes);
                break;
            case RangeIfCheck c:
                Condition(context, c.Place, "when", table, c.When);
                Number(context, c.Place, "column", table, c.Column);
                Limits(context, c.Place, c.Limits);
                break;
            case PairRangeCheck c:
                PairRange(context, c, table);
                break;
            case StatedScoreCheck c:
                Number(context, c.Place, "column", table, c.Column);
                for (int i = 0; i < c.Components.Length; i++)
                    context.Column(c.Place, $"components[{i}].column", table, c.Components[i].Column);
                break;
            case EqualSidesCheck c:
                Columns(context, c.Place, table, c.Columns, numbers: false);
                Role(context, c.Place, table, ColumnRole.Side);
                Enough(context, c.Place, c.AtLeast, 2);
                break;
            case ChangeCheck c:
                Change(context, c, table);
                break;
            case RaterDifferenceCheck c:
                Number(context, c.Place, "column", table, c.Column);
                Role(context, c.Place, table, ColumnRole.Rater);
                break;
            case RepeatedContentCheck c:
                Columns(context, c.Place, table, c.Columns, numbers: false);
                Enough(context, c.Place, c.AtLeast, 3);
                break;
            case OutlierCheck c:
                Outlier(context, c, table);
                break;
            default:
                LinkRules.Check(context, check, table);
                break;
        }
    }

    private static void LastDigit(RuleContext context, LastDigitCheck check, TableDefinition table)
    {
        Columns(context, check.Place, table, check.Columns, numbers: true);
        context.CodeColumn(check.Place, "by", table, check.By);
        if (check.MultipleOf < 2)
            context.Fault(check.Place, "multiple_of", "Every whole number is a multiple of one.", "Use 5 or 10.");
        if (check.MoreThan is <= 0 or >= 1)
            context.Fault(check.Place, "more_than", "A share lies between 0 and 1.", "Write 0.6 for 60 percent.");
        Probability(context, check.Place, check.BelowP);
        Enough(context, check.Place, check.AtLeast, 10);
    }

    private static void PairRange(RuleContext context, PairRangeCheck check, TableDefinition table)
    {
        ColumnDefinition? first = Number(context, check.Place, "first", table, check.First);
        ColumnDefinition? second = Number(context, check.Place, "second", table, check.Second);
        Limits(context, check.Place, check.Limits);
        if (first is not null && second is not null && check.Combination != PairCombination.OverSquare && first.Unit != second.Unit)
        {
            context.Fault(
                check.Place, "second", $"'{first.Name}' is in {first.Unit ?? "no unit"} and '{second.Name}' in {second.Unit ?? "no unit"}.",
                "Combine columns of one unit.");
        }
    }

    private static void Change(RuleContext context, ChangeCheck check, TableDefinition table)
    {
        Number(context, check.Place, "column", table, check.Column);
        if (check.OrderBy is { } order)
            context.Column(check.Place, "order_by", table, order);
        else if (table.Column(ColumnRole.Visit) is null && table.Column(ColumnRole.Day) is null)
            context.Fault(check.Place, "table", $"Rows of table '{table.Name}' have no visit and no day.", "Name a table whose rows follow each other.");
        for (int i = 0; i < check.Same.Length; i++)
            context.Column(check.Place, $"same[{i}]", table, check.Same[i]);
        if (check.AtMost < 0)
            context.Fault(check.Place, "at_most", "A change is not less than nothing.", "Write the limit without a sign.");
        if (check.WithinDays < 1)
            context.Fault(check.Place, "within_days", "At least one day lies between two rows.", "Write 1 or more.");
    }

    private static void Outlier(RuleContext context, OutlierCheck check, TableDefinition table)
    {
        Columns(context, check.Place, table, check.Columns, numbers: true);
        Probability(context, check.Place, check.BelowP);
        Enough(context, check.Place, check.AtLeast, 10 * check.Columns.Length);
        TableDefinition? roster = context.Protocol.Tables.FirstOrDefault(t => t.IsRoster);
        if (check.AgeColumn is { } age)
            Number(context, check.Place, "age_column", roster, age);
        if (check.AgeColumn is null != check.AgeCutPoints.IsEmpty)
            context.Fault(check.Place, "age_cut_points", "Age bands need a column and cut points.", "Give both or neither.");
        for (int i = 1; i < check.AgeCutPoints.Length; i++)
        {
            if (check.AgeCutPoints[i] <= check.AgeCutPoints[i - 1])
                context.Fault(check.Place, $"age_cut_points[{i}]", "Cut points must rise.", "Order them.");
        }
    }

    private static void Columns(RuleContext context, Place place, TableDefinition table, ImmutableArray<string> columns, bool numbers)
    {
        for (int i = 0; i < columns.Length; i++)
        {
            if (numbers)
                Number(context, place, $"columns[{i}]", table, columns[i]);
            else
                context.Column(place, $"columns[{i}]", table, columns[i]);
        }
        context.Unique(columns.Select((c, i) => (c, place, $"columns[{i}]")), "column");
    }

    private static ColumnDefinition? Any(RuleContext context, Place place, TableDefinition table, string name)
        => context.Column(place, "column", table, name);

    private static ColumnDefinition? Number(RuleContext context, Place place, string path, TableDefinition? table, string name)
    {
        ColumnDefinition? column = context.Column(place, path, table, name);
        if (column is null || column.Type is ColumnType.Number or ColumnType.WholeNumber)
            return column;
        context.Fault(place, path, $"Column '{name}' holds no numbers.", "Name a column of type number or whole_number.");
        return null;
    }

    internal static void Condition(RuleContext context, Place place, string path, TableDefinition? table, RowCondition? condition)
    {
        if (condition is null || table is null)
            return;
        Codes(context, place, $"{path}.codes", context.CodeColumn(place, $"{path}.column", table, condition.Column), condition.Codes);
    }

    private static void Codes(RuleContext context, Place place, string path, ColumnDefinition? column, ImmutableArray<string> codes)
    {
        for (int i = 0; i < codes.Length; i++)
            context.Code(place, $"{path}[{i}]", column, codes[i]);
    }

    internal static void Role(RuleContext context, Place place, TableDefinition table, ColumnRole role)
    {
        if (table.Column(role) is null)
            context.Fault(place, "table", $"Table '{table.Name}' has no column of role {role.ToString().ToLowerInvariant()}.", "Name another table.");
    }

    private static void Limits(RuleContext context, Place place, ValueRange limits)
    {
        if (limits.Lowest > limits.Highest)
            context.Fault(place, "limits", "The lowest value lies above the highest.", "Exchange them.");
    }

    private static void Probability(RuleContext context, Place place, double p)
    {
        if (p is <= 0 or >= 0.5)
            context.Fault(place, "below_p", "The p value that raises a question lies between 0 and 0.5.", "Use 0.001 or less.");
    }

    private static void Enough(RuleContext context, Place place, int given, int least)
    {
        if (given < least)
            context.Fault(place, "at_least", $"Fewer than {least} values say nothing.", $"Write {least} or more.");
    }
}
