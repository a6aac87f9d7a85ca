namespace RotationStudy.Study.Checks.Rows;

/// <summary>One row per key: exact repetitions are dropped but for one, rows that contradict each other are all set aside.</summary>
/// <remarks>Which of two contradicting rows came first in the file says nothing about which is right.</remarks>
internal static class DuplicateRule
{
    internal static void Apply(TableDraft table, FindingList findings)
    {
        ulong[] keyOfRow = KeyOrder.Of(table);
        int[] rows = [.. table.Kept()];
        ulong[] keys = Array.ConvertAll(rows, row => keyOfRow[row]);
        Array.Sort(keys, rows);
        List<int> kept = new(rows.Length);
        for (int start = 0; start < rows.Length;)
        {
            int end = start + 1;
            while (end < rows.Length && keys[end] == keys[start])
                end++;
            if (end - start > 1)
                Judge(table, rows[start..end], findings);
            for (int i = start; i < end; i++)
            {
                if (table.IsKept(rows[i]))
                    kept.Add(rows[i]);
            }
            start = end;
        }
        table.Order = [.. kept];
    }

    private static void Judge(TableDraft table, int[] rows, FindingList findings)
    {
        Array.Sort(rows);
        int first = rows[0];
        DraftColumn? differs = table.Columns.FirstOrDefault(c => rows.Any(row => !c[first].SaysTheSameAs(c[row])));
        string key = string.Join(", ", table.Key.Select(k => k.KeyText(first)));
        if (differs is null)
        {
            foreach (int row in rows.Skip(1))
            {
                findings.Add(
                    CheckCatalog.RowDuplicate, table, row, null, "each row once",
                    $"The row of {key} repeats line {table.Line(first)} in every value. One is kept, this one is set aside.");
                table.SetAside(row, CheckCatalog.RowDuplicate);
            }
            return;
        }
        string message = $"Lines {Listing.Few(Array.ConvertAll(rows, table.Line))} all belong to {key} and differ, "
            + $"for one in '{differs.Definition.Name}'. All are set aside; please say which is right.";
        foreach (int row in rows)
        {
            findings.Add(CheckCatalog.KeyConflict, table, row, differs, "one row per key", message);
            table.SetAside(row, CheckCatalog.KeyConflict);
        }
    }
}
