using System.Collections.Immutable;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Withdrawal;

/// <summary>Takes participants who withdrew consent out of an export as it was read, before any check sees a cell of theirs.</summary>
/// <remarks>
/// Case and blanks around an identifier do not matter. A row whose identifier only looks like one of the list (A-17 for
/// A-017) goes too, unless the roster lists it as somebody else's.
/// </remarks>
public static class ExportWithdrawal
{
    /// <summary>The export without them; it remembers how many rows and persons left.</summary>
    /// <param name="exports">The export as it was read.</param>
    /// <param name="protocol">The protocol it was read with.</param>
    /// <param name="ids">Who withdrew.</param>
    public static ExportFolder Apply(ExportFolder exports, StudyProtocol protocol, WithdrawnIds ids)
    {
        if (ids.Count == 0)
            return exports;
        HashSet<string> others = Others(exports, protocol, ids);
        HashSet<string> found = new(StringComparer.OrdinalIgnoreCase);
        ImmutableArray<ExportFile> files = [.. exports.Files.Select(f => Without(f, protocol.Table(f.Table), ids, others, found))];
        int rows = files.Sum(f => f.WithdrawnRows);
        string roster = (protocol.Tables.FirstOrDefault(t => t.IsRoster) ?? protocol.Tables[0]).File;
        return new ExportFolder(
            files,
            [.. WithdrawalCount.Without(exports.Findings, ids), WithdrawalCount.Of(roster, found.Count, rows, ids.PlacesWithout(found))],
            exports.Hashes)
        {
            Withdrawn = found.Count,
        };
    }

    /// <summary>Identifiers of the roster that are not withdrawn.</summary>
    private static HashSet<string> Others(ExportFolder exports, StudyProtocol protocol, WithdrawnIds ids)
        => protocol.Tables.FirstOrDefault(t => t.IsRoster) is { } roster && exports.Of(roster.Name) is { } file && ParticipantOf(file, roster) is { } column
            ? Enumerable.Range(0, column.Texts).Select(t => column.Text(t).Trim()).Where(t => ids.Find(t) is null).ToHashSet(StringComparer.Ordinal)
            : [];

    private static ExportFile Without(ExportFile file, TableDefinition table, WithdrawnIds ids, HashSet<string> others, HashSet<string> found)
    {
        if (ParticipantOf(file, table) is not { } participant)
            return file;
        bool[] leaves = new bool[participant.Texts];
        for (int text = 0; text < leaves.Length; text++)
        {
            string who = participant.Text(text);
            string? listed = ids.Find(who);
            if (listed is not null)
                found.Add(listed);
            leaves[text] = listed is not null || (others.Count > 0 && who.Trim().Length > 0 && ids.LooksLikeOne(who) && !others.Contains(who.Trim()));
        }
        int[] stay = [.. Enumerable.Range(0, file.Rows).Where(row => !leaves[participant.TextOf(row)])];
        return stay.Length == file.Rows ? file : Pick(file, stay);
    }

    private static ExportFile Pick(ExportFile file, int[] rows) => file with
    {
        Columns = [.. file.Columns.Select(c => Pick(c, rows))],
        Undeclared = [.. file.Undeclared.Select(c => Pick(c, rows))],
        Lines = [.. rows.Select(r => file.Lines[r])],
        Parts = [.. file.Parts.Select(p => p with { FirstRow = FirstAtOrAfter(rows, p.FirstRow) })],
        WithdrawnRows = file.Rows - rows.Length,
    };

    private static int FirstAtOrAfter(int[] rows, int row)
    {
        int at = Array.BinarySearch(rows, row);
        return at < 0 ? ~at : at;
    }

    /// <summary>A column of these rows, with no text that only the others had.</summary>
    private static RawColumn Pick(RawColumn column, int[] rows)
    {
        RawColumnBuilder kept = new(column.Name);
        kept.AddOf(column, rows, text => column.Utf8(text).ToArray());
        return kept.Build();
    }

    private static RawColumn? ParticipantOf(ExportFile file, TableDefinition table)
        => table.Column(ColumnRole.Participant) is { } column ? file.Column(column.Name) : null;
}
