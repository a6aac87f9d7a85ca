using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>Gathers findings and fills in whom and which site a row belongs to.</summary>
/// <remarks>
/// When one rule objects to one column in more rows than anybody can answer for, the first are listed and the rest are counted in one
/// finding: a column in the wrong unit must not fill the memory. Rows are set aside, and hips are listed, without such a limit.
/// </remarks>
internal sealed class FindingList(IEnumerable<Finding> first)
{
    /// <summary>Findings of one rule about one column that are listed one by one.</summary>
    internal const int Listed = 10_000;

    private readonly List<Finding> findings = [.. first];
    private readonly Dictionary<(string Rule, TableDraft Table, DraftColumn? Column), (CheckRule Rule, int Rows)> rowsOf = [];
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
        int before = rowsOf.GetValueOrDefault((rule.Id, table, column)).Rows;
        rowsOf[(rule.Id, table, column)] = (rule, before + 1);
        if (before >= Listed && rule.Id != CheckCatalog.HipFirst.Id)
            return;
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
            .. findings.Concat(NotListed())
                .OrderBy(f => f.Rule != CheckCatalog.HipFirst.Id)
                .ThenBy(f => f.File, StringComparer.Ordinal)
                .ThenBy(f => f.Line)
                .ThenBy(f => f.Column, StringComparer.Ordinal)
                .ThenBy(f => f.Rule, StringComparer.Ordinal)
                .ThenBy(f => f.Message, StringComparer.Ordinal),
        ];

    private IEnumerable<Finding> NotListed()
        => rowsOf.Where(r => r.Value.Rows > Listed && r.Key.Rule != CheckCatalog.HipFirst.Id).Select(r => r.Value.Rule.At(
            r.Key.Table.Definition.File, 0, r.Key.Column?.Definition.Name, null, "few enough to be answered one by one",
            string.Create(CultureInfo.InvariantCulture, $"{r.Value.Rows - Listed} more rows of {r.Key.Table.Definition.File} are like the {Listed} that are listed. Is a whole column wrong?")));
}
