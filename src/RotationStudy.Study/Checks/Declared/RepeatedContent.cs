using System.Numerics;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>The same content under another key: the rows of a person (and visit) that say what those of another say.</summary>
/// <remarks>
/// Each person and visit is one number of 64 bits made of all its values, sides and raters in order; equal numbers are equal
/// content. Among a million visits two differing contents share a number with a chance of 3 in 100 million.
/// </remarks>
internal static class RepeatedContent
{
    internal static void Apply(RepeatedContentCheck check, TableDraft table, RowReport report)
    {
        DraftColumn[] columns = [.. check.Columns.Select(table.Named)];
        DraftColumn participant = table.Column(ColumnRole.Participant)!;
        DraftColumn? visit = table.Column(ColumnRole.Visit);
        DraftColumn[] block = visit is null ? [participant] : [participant, visit];
        (int[] rows, ulong[] groups) = CheckedRows.Sorted(table, block, table.Column(ColumnRole.Side));
        List<ulong> contents = [];
        List<int> firstRows = [];
        for (int start = 0, end; start < rows.Length; start = end)
        {
            ulong content = 17;
            int values = 0;
            for (end = start; end < rows.Length && groups[end] == groups[start]; end++)
                content = Add(content, columns, rows[end], ref values);
            if (values < check.AtLeast)
                continue;
            contents.Add(content);
            firstRows.Add(rows[start]);
        }
        ReportRepeats(check, table, [.. contents], [.. firstRows], report);
    }

    private static ulong Add(ulong content, DraftColumn[] columns, int row, ref int values)
    {
        foreach (DraftColumn column in columns)
        {
            ref readonly Cells.Verdict verdict = ref column[row];
            ulong value = verdict.HasValue
                ? BitConverter.DoubleToUInt64Bits(verdict.Number) + (ulong)verdict.Code + 1
                : 0x5851_F42D_4C95_7F2D;
            content = BitOperations.RotateLeft(content ^ Mix(value), 27) * 0x9E37_79B9_7F4A_7C15;
            values += verdict.HasValue ? 1 : 0;
        }
        return content;
    }

    private static ulong Mix(ulong x)
    {
        x = (x ^ (x >> 30)) * 0xBF58_476D_1CE4_E5B9;
        x = (x ^ (x >> 27)) * 0x94D0_49BB_1331_11EB;
        return x ^ (x >> 31);
    }

    private static void ReportRepeats(RepeatedContentCheck check, TableDraft table, ulong[] contents, int[] rows, RowReport report)
    {
        // Rows come in order of their key, whatever their order in the file: the first key is the one that is repeated.
        int[] place = [.. Enumerable.Range(0, rows.Length)];
        Array.Sort(contents, place);
        for (int start = 0, end; start < place.Length; start = end)
        {
            end = start + 1;
            while (end < place.Length && contents[end] == contents[start])
                end++;
            if (end - start < 2)
                continue;
            int[] alike = place[start..end];
            Array.Sort(alike);
            int first = rows[alike[0]];
            foreach (int later in alike[1..])
            {
                report.Add(
                    rows[later], null, "values of its own",
                    $"All of {Listing.Few(check.Columns)} repeat those of {string.Join(", ", table.Key.Select(k => k.Shown(first)))} (line {table.Line(first)}).");
            }
        }
    }
}
