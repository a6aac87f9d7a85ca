using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Rows;

/// <summary>Sets the rows aside whose participant the roster does not hold.</summary>
internal static class RosterRule
{
    internal static void Apply(TableDraft table, TableDraft roster, FindingList findings)
    {
        HashSet<string> known = Participants(roster);
        if (table.Column(ColumnRole.Participant) is not { } participant)
            return;
        bool[] unknown = new bool[participant.Texts];
        for (int text = 0; text < unknown.Length; text++)
            unknown[text] = participant.VerdictOfText(text) is { HasValue: true } verdict && !known.Contains(verdict.Identifier);
        if (!unknown.Contains(true))
            return;
        HashSet<string> listed = Listed(roster);
        Dictionary<string, string> hints = new(StringComparer.Ordinal);
        foreach (int row in table.Kept())
        {
            if (!unknown[participant.TextOf(row)])
                continue;
            string who = participant[row].Identifier;
            if (!hints.TryGetValue(who, out string? hint))
                hints.Add(who, hint = Hint(who, listed, known, roster.Definition.File));
            findings.Add(
                CheckCatalog.ParticipantUnknown, table, row, participant,
                $"a participant of {roster.Definition.File}", $"{hint} The row is set aside.");
            table.SetAside(row, CheckCatalog.ParticipantUnknown);
        }
    }

    /// <summary>The participants whose roster rows are kept.</summary>
    internal static HashSet<string> Participants(TableDraft roster)
    {
        DraftColumn participant = roster.Column(ColumnRole.Participant)!;
        return roster.Kept().Select(row => participant[row].Identifier).ToHashSet(StringComparer.Ordinal);
    }

    private static HashSet<string> Listed(TableDraft roster)
    {
        DraftColumn participant = roster.Column(ColumnRole.Participant)!;
        return Enumerable.Range(0, participant.Texts).Select(t => participant.VerdictOfText(t).Identifier).ToHashSet(StringComparer.Ordinal);
    }

    private static string Hint(string who, HashSet<string> listed, HashSet<string> known, string file)
    {
        if (listed.Contains(who))
            return $"The row of participant '{who}' in {file} was set aside, so this row has nobody to belong to.";
        string? variant = known.Where(k => LookAlike.Folded(k) == LookAlike.Folded(who)).Order(StringComparer.Ordinal).FirstOrDefault();
        return $"Participant '{who}' is not in {file}." + (variant is null ? string.Empty : $" Is it '{variant}'?");
    }
}
