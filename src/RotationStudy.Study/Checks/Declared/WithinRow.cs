using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Checks that need one row only: a value under a condition, limits under a condition, two columns combined.</summary>
internal static class WithinRow
{
    internal static void Apply(RequiredIfCheck check, TableDraft table, RowReport report)
    {
        DraftColumn column = table.Named(check.Column);
        CodeFilter when = new(table, check.When);
        DraftColumn condition = table.Named(check.When.Column);
        CodeFilter? wanted = check.Codes.IsEmpty ? null : new CodeFilter(table, new RowCondition(check.Column, check.Codes));
        foreach (int row in table.Order)
        {
            if (!when.Holds(row) || (wanted?.Holds(row) ?? column[row].HasValue))
                continue;
            string expected = check.Codes.IsEmpty ? "a value" : string.Join(" or ", check.Codes);
            string found = column[row].HasValue ? $"'{column.Shown(row)}'" : "no value";
            report.Add(row, column, expected, $"'{check.When.Column}' is '{condition.Shown(row)}' and '{check.Column}' has {found}.");
        }
    }

    internal static void Apply(RangeIfCheck check, TableDraft table, RowReport report)
    {
        DraftColumn column = table.Named(check.Column);
        DraftColumn condition = table.Named(check.When.Column);
        CodeFilter when = new(table, check.When);
        foreach (int row in table.Order)
        {
            if (!when.Holds(row) || !column[row].HasValue || check.Limits.Holds(column[row].Number))
                continue;
            report.Add(
                row, column, Between(check.Limits),
                $"'{check.Column}' is {column.Shown(row)} while '{check.When.Column}' is '{condition.Shown(row)}'.");
        }
    }

    internal static void Apply(PairRangeCheck check, TableDraft table, RowReport report)
    {
        DraftColumn first = table.Named(check.First);
        DraftColumn second = table.Named(check.Second);
        foreach (int row in table.Order)
        {
            if (!first[row].HasValue || !second[row].HasValue)
                continue;
            double a = first[row].Number;
            double b = second[row].Number;
            double value = check.Combination switch
            {
                PairCombination.Sum => a + b,
                PairCombination.Difference => a - b,
                _ => a / (b * b),
            };
            if (check.Limits.Holds(value))
                continue;
            report.Add(row, first, $"{Words(check)} of {Between(check.Limits)}", string.Create(
                CultureInfo.InvariantCulture, $"{Words(check)} comes to {value:G4} ({first.Shown(row)} and {second.Shown(row)})."));
        }
    }

    private static string Words(PairRangeCheck check) => check.Combination switch
    {
        PairCombination.Sum => $"'{check.First}' plus '{check.Second}'",
        PairCombination.Difference => $"'{check.First}' minus '{check.Second}'",
        _ => $"'{check.First}' over the square of '{check.Second}'",
    };

    private static string Between(ValueRange limits) => FormattableString.Invariant($"{limits.Lowest} to {limits.Highest}");
}
