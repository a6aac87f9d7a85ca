using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>Gathers findings and fills in whom and which site a row belongs to.</summary>
internal sealed class FindingList(IEnumerable<Finding> first)
{
    private readonly List<Finding> findings = [.. first];
    private readonly Dictionary<string, string> siteOf = new(StringComparer.Ordinal);

    internal bool MustStop => findings.Any(f => f.Severity == Severity.Stop);

    /// <summary>Remembers the sites of the participants, so that findings can be sorted by site.</summary>
    internal void LearnSites(TableDraft roster)
    {
        if (roster.Column(ColumnRole.Participant) is not { } participant || roster.Column(ColumnRole.Site) is not { } site)
            return;
        for (int row = 0; row < roster.Rows; row++)
        {
            if (participant[row].HasValue && site[row].HasValue)
                siteOf.TryAdd(participant[row].Identifier, site.KeyText(row));
        }
    }

    internal void Add(Finding finding) => findings.Add(finding);

    /// <summary>A finding about a row, or about one cell of it.</summary>
    internal void Add(CheckRule rule, TableDraft table, int row, DraftColumn? column, string expected, string message)
    {
        DraftColumn? participant = table.Column(ColumnRole.Participant);
        string? who = participant is { IsAbsent: false } ? participant.Shown(row) : null;
        string? site = who is null ? null : siteOf.GetValueOrDefault(who);
        findings.Add(rule.At(table.File(row), table.Line(row), column?.Definition.Name, column?.Shown(row), expected, message, who, site) with
        {
            Key = string.Join(" | ", table.Key.Select(k => k.Shown(row))),
        });
    }

    /// <summary>All findings: hips for the clinical team first, then in order of file, line, column and rule.</summary>
    internal ImmutableArray<Finding> InOrder()
        =>
        [
            .. findings
                .OrderBy(f => f.Rule != CheckCatalog.HipFirst.Id)
                .ThenBy(f => f.File, StringComparer.Ordinal)
                .ThenBy(f => f.Line)
                .ThenBy(f => f.Column, StringComparer.Ordinal)
                .ThenBy(f => f.Rule, StringComparer.Ordinal)
                .ThenBy(f => f.Message, StringComparer.Ordinal),
        ];
}
