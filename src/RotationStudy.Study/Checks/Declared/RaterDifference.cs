using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Two raters of the same person, visit and side who differ by more than a limit.</summary>
internal static class RaterDifference
{
    internal static void Apply(RaterDifferenceCheck check, TableDraft table, RowReport report)
    {
        DraftColumn rater = table.Column(ColumnRole.Rater)!;
        DraftColumn column = table.Named(check.Column);
        (int[] rows, ulong[] groups) = CheckedRows.Sorted(table, [.. table.Key.Where(k => k != rater)], column);
        for (int start = 0, end; start < rows.Length; start = end)
        {
            end = start + 1;
            while (end < rows.Length && groups[end] == groups[start])
                end++;
            if (end - start < 2)
                continue;
            // Missing values count as zero in the order, so the ends are looked for among the values.
            int least = -1;
            int most = -1;
            for (int i = start; i < end; i++)
            {
                if (!column[rows[i]].HasValue)
                    continue;
                least = least < 0 ? rows[i] : least;
                most = rows[i];
            }
            if (least < 0 || column[most].Number - column[least].Number <= check.AtMost)
                continue;
            report.Add(
                most, column, string.Create(CultureInfo.InvariantCulture, $"a difference of at most {check.AtMost}"),
                $"{rater.Shown(most)} read {column.Shown(most)} and {rater.Shown(least)} read {column.Shown(least)} (line {table.Line(least)}).");
        }
    }
}
