using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Asks about participants who have no visit at all.</summary>
internal static class ParticipantVisitRule
{
    internal static void Apply(ExportDraft export, FindingList findings)
    {
        TableDraft[] visited = [.. export.Tables.Where(t => !t.Definition.IsRoster && t.Column(ColumnRole.Visit) is not null)];
        if (export.Roster is not { } roster || visited.Length == 0)
            return;
        HashSet<string> seen = new(StringComparer.Ordinal);
        foreach (TableDraft table in visited)
        {
            DraftColumn who = table.Column(ColumnRole.Participant)!;
            seen.UnionWith(table.Order.Select(row => who[row].Identifier));
        }
        DraftColumn participant = roster.Column(ColumnRole.Participant)!;
        foreach (int row in roster.Order.Where(row => !seen.Contains(participant[row].Identifier)))
        {
            string files = string.Join(", ", visited.Select(t => t.Definition.File));
            findings.Add(
                CheckCatalog.ParticipantNoVisit, roster, row, participant, "at least one visit",
                $"Participant '{participant[row].Identifier}' has no usable row in {files}. Were visits left out of the export?");
        }
    }
}
