using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Left equal to right to the digit in every measure: was one side copied?</summary>
internal static class EqualSides
{
    internal static void Apply(EqualSidesCheck check, TableDraft table, RowReport report)
    {
        DraftColumn side = table.Column(ColumnRole.Side)!;
        DraftColumn[] columns = [.. check.Columns.Select(table.Named)];
        (int[] rows, ulong[] groups) = CheckedRows.Sorted(table, [.. table.Key.Where(k => k != side)], side);
        for (int i = 1; i < rows.Length; i++)
        {
            if (groups[i] != groups[i - 1] || Equal(columns, rows[i - 1], rows[i]) < check.AtLeast)
                continue;
            report.Add(
                rows[i], null, "sides that differ somewhere",
                $"Both sides are equal to the digit in all of {Listing.Few(check.Columns)} (the other side is on line {table.Line(rows[i - 1])}).");
        }
    }

    /// <summary>Number of columns with a value on both sides, or -1 when a column differs.</summary>
    private static int Equal(DraftColumn[] columns, int first, int second)
    {
        int known = 0;
        foreach (DraftColumn column in columns)
        {
            if (!column[first].SaysTheSameAs(column[second]))
                return -1;
            known += column[first].HasValue ? 1 : 0;
        }
        return known;
    }
}
