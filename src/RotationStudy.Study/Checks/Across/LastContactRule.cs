using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Across;

/// <summary>Asks about rows dated after the last contact with the participant.</summary>
internal static class LastContactRule
{
    internal static void Apply(ExportDraft export, FindingList findings)
    {
        if (export.Roster is not { } roster || roster.Column(ColumnRole.Day) is not { } last)
            return;
        DraftColumn participant = roster.Column(ColumnRole.Participant)!;
        Dictionary<string, double> lastDay = roster.Order
            .Where(row => last[row].HasValue)
            .ToDictionary(row => participant[row].Identifier, row => last[row].Number, StringComparer.Ordinal);
        foreach (TableDraft table in export.Tables.Where(t => t != roster && t.Column(ColumnRole.Day) is not null))
        {
            DraftColumn who = table.Column(ColumnRole.Participant)!;
            DraftColumn day = table.Column(ColumnRole.Day)!;
            foreach (int row in table.Order)
            {
                if (!day[row].HasValue || !lastDay.TryGetValue(who[row].Identifier, out double end) || day[row].Number <= end)
                    continue;
                findings.Add(
                    CheckCatalog.DayAfterLastContact, table, row, day,
                    FormattableString.Invariant($"day {end} or earlier"),
                    FormattableString.Invariant($"Day {day[row].Number} lies after the last contact with the participant on day {end}. Please correct one of them."));
            }
        }
    }
}
