using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Asks about rows of a visit that the list of visits does not hold.</summary>
internal static class VisitListRule
{
    internal static void Apply(ExportDraft export, FindingList findings)
    {
        if (export.Tables.FirstOrDefault(IsListOfVisits) is not { } list)
            return;
        Dictionary<string, HashSet<string>> known = VisitsOf(list);
        foreach (TableDraft table in export.Tables.Where(t => t != list))
        {
            if (table.Column(ColumnRole.Visit) is not { } visit)
                continue;
            DraftColumn participant = table.Column(ColumnRole.Participant)!;
            foreach (int row in table.Order)
            {
                if (!visit[row].HasValue)
                    continue;
                if (known.TryGetValue(participant[row].Identifier, out HashSet<string>? visits) && visits.Contains(visit.KeyText(row)))
                    continue;
                findings.Add(
                    CheckCatalog.VisitNotListed, table, row, visit, $"a visit of {list.Definition.File}",
                    $"{list.Definition.File} has no usable row for visit '{visit.KeyText(row)}' of this participant. "
                        + "Please add it there or correct the visit here.");
            }
        }
    }

    private static Dictionary<string, HashSet<string>> VisitsOf(TableDraft list)
    {
        DraftColumn participant = list.Column(ColumnRole.Participant)!;
        DraftColumn visit = list.Column(ColumnRole.Visit)!;
        Dictionary<string, HashSet<string>> known = new(StringComparer.Ordinal);
        foreach (int row in list.Order)
        {
            string who = participant[row].Identifier;
            if (!known.TryGetValue(who, out HashSet<string>? visits))
                known.Add(who, visits = new HashSet<string>(StringComparer.Ordinal));
            visits.Add(visit.KeyText(row));
        }
        return known;
    }

    /// <summary>The table with one dated row per participant and visit.</summary>
    internal static bool IsListOfVisits(TableDraft table)
        => table.Key.Length == 2
            && table.Key.Any(k => k.Definition.Role == ColumnRole.Participant)
            && table.Key.Any(k => k.Definition.Role == ColumnRole.Visit)
            && table.Column(ColumnRole.Day) is not null;
}
