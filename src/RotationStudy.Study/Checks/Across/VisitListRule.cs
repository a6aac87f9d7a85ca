using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Asks about rows of a visit that the list of visits does not hold.</summary>
internal static class VisitListRule
{
    internal static void Apply(ExportDraft export, FindingList findings)
    {
        if (export.Tables.FirstOrDefault(IsListOfVisits) is not { } list)
            return;
        HashSet<(string, string)> known = [.. list.Order.Select(row => KeyOf(list, row))];
        foreach (TableDraft table in export.Tables.Where(t => t != list && t.Column(ColumnRole.Visit) is not null))
        {
            DraftColumn visit = table.Column(ColumnRole.Visit)!;
            foreach (int row in table.Order.Where(row => visit[row].HasValue && !known.Contains(KeyOf(table, row))))
            {
                findings.Add(
                    CheckCatalog.VisitNotListed, table, row, visit, $"a visit of {list.Definition.File}",
                    $"{list.Definition.File} has no usable row for visit '{visit.KeyText(row)}' of this participant. Please add it there or correct the visit here.");
            }
        }
    }

    /// <summary>The table with one dated row per participant and visit.</summary>
    internal static bool IsListOfVisits(TableDraft table)
        => table.Key.Length == 2
            && table.Key.Any(k => k.Definition.Role == ColumnRole.Participant)
            && table.Key.Any(k => k.Definition.Role == ColumnRole.Visit)
            && table.Column(ColumnRole.Day) is not null;

    private static (string Participant, string Visit) KeyOf(TableDraft table, int row)
        => (table.Column(ColumnRole.Participant)!.KeyText(row), table.Column(ColumnRole.Visit)!.KeyText(row));
}
