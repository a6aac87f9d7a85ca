using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>A value that moves too far, or the wrong way, from one row to the next.</summary>
internal static class Change
{
    internal static void Apply(ChangeCheck check, TableDraft table, CheckedRows rows, RowReport report)
    {
        DraftColumn column = table.Named(check.Column);
        DraftColumn order = check.OrderBy is { } name ? table.Named(name) : table.Column(ColumnRole.Visit) ?? table.Column(ColumnRole.Day)!;
        DraftColumn[] group =
        [
            .. table.Key.Where(k => k != order && k.Definition.Role is not (ColumnRole.Visit or ColumnRole.Day or ColumnRole.Sequence)),
            .. check.Same.Select(table.Named),
        ];
        double[]? days = check.WithinDays is null ? null : rows.Days(table);
        (int[] sorted, ulong[] groups) = CheckedRows.Sorted(table, group, order);
        int before = -1;
        for (int i = 0; i < sorted.Length; i++)
        {
            int row = sorted[i];
            if (i > 0 && groups[i] != groups[i - 1])
                before = -1;
            if (!column[row].HasValue || !order[row].HasValue)
                continue;
            if (before >= 0 && TooFar(check, column[row].Number - column[before].Number) && Near(check, days, before, row))
                Report(check, table, column, before, row, report);
            before = row;
        }
    }

    private static bool TooFar(ChangeCheck check, double change) => check.Direction switch
    {
        ChangeDirection.Falls => -change > check.AtMost,
        ChangeDirection.Rises => change > check.AtMost,
        _ => Math.Abs(change) > check.AtMost,
    };

    /// <summary>Unknown days are not near.</summary>
    private static bool Near(ChangeCheck check, double[]? days, int before, int row)
        => days is null || Math.Abs(days[row] - days[before]) <= check.WithinDays!.Value;

    private static void Report(ChangeCheck check, TableDraft table, DraftColumn column, int before, int row, RowReport report)
    {
        string way = check.Direction switch
        {
            ChangeDirection.Falls => "a fall",
            ChangeDirection.Rises => "a rise",
            _ => "a change",
        };
        string within = check.WithinDays is { } days ? string.Create(CultureInfo.InvariantCulture, $" within {days} days") : string.Empty;
        report.Add(
            row, column, string.Create(CultureInfo.InvariantCulture, $"{way} of at most {check.AtMost}{within}"),
            $"'{check.Column}' goes from {column.Shown(before)} (line {table.Line(before)}) to {column.Shown(row)}.");
    }
}
