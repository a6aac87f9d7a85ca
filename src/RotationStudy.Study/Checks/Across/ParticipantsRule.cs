using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Stops when nobody is left to analyse.</summary>
internal static class ParticipantsRule
{
    internal static void Apply(ExportDraft export, FindingList findings)
    {
        TableDraft[] sources = export.Roster is { } roster ? [roster] : [.. export.Tables.Where(t => t.Column(ColumnRole.Participant) is not null)];
        if (sources.Length == 0 || sources.Any(t => t.Order.Length > 0))
            return;
        string files = string.Join(", ", sources.Select(t => t.Definition.File));
        findings.Add(CheckCatalog.RosterEmpty.InFile(
            sources[0].Definition.File, "at least one participant",
            $"No usable row is left in {files}, so there is nobody to analyse."));
    }
}
