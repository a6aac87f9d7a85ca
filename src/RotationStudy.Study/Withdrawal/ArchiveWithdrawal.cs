using System.Collections.Immutable;
using RotationStudy.Study.Archive;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Withdrawal;

/// <summary>Takes participants who withdrew consent out of an archive that was made before they did.</summary>
/// <remarks>
/// Their rows and the findings about them go; findings of whole groups (such as the rounding of a rater) stay as they were
/// counted. The protocol is not needed, so that an archive of an earlier one can be served too.
/// </remarks>
public static class ArchiveWithdrawal
{
    /// <summary>Writes the archive without them.</summary>
    /// <param name="folder">The archive.</param>
    /// <param name="ids">Who withdrew.</param>
    /// <param name="write">Writes one file of the new archive.</param>
    /// <returns>What was removed, and the hash of the new manifest.</returns>
    /// <exception cref="ArchiveError">A file is missing, changed or damaged.</exception>
    /// <exception cref="IOException">A file cannot be read.</exception>
    public static ArchiveWithdrawn Apply(string folder, WithdrawnIds ids, FileWriting write)
    {
        (ArchiveContent content, int rows, HashSet<string> found) = From(ArchiveContent.Open(folder), ids);
        return new ArchiveWithdrawn(found.Count, rows, content.Manifest.Withdrawn, ids.PlacesWithout(found), content.Write(write));
    }

    /// <summary>The content without them, how many rows went, and which identifiers were there.</summary>
    internal static (ArchiveContent Content, int Rows, HashSet<string> Found) From(ArchiveContent content, WithdrawnIds ids)
    {
        HashSet<string> found = new(StringComparer.OrdinalIgnoreCase);
        if (ids.Count == 0)
            return (content, 0, found);
        ImmutableArray<(string Table, ArchiveFile File)> left = [.. content.Tables.Select(t => (t.Table, Without(t.File, ids, found)))];
        Dictionary<string, int> removed = content.Tables.Zip(left).ToDictionary(p => p.First.Table, p => p.First.File.Rows - p.Second.File.Rows);
        ArchiveManifest manifest = content.Manifest with
        {
            Accounts = [.. content.Manifest.Accounts.Select(a => WithdrawalCount.Without(a, removed.GetValueOrDefault(a.Table)))],
            Withdrawn = content.Manifest.Withdrawn + found.Count,
        };
        FindingList findings = new(WithdrawalCount.Without(content.Findings, ids).Where(f => f.Rule != CheckCatalog.ConsentWithdrawn.Id));
        int rows = manifest.Accounts.Sum(a => a.SetAside.Where(s => s.Rule == CheckCatalog.ConsentWithdrawn.Id).Sum(s => s.Rows));
        findings.Add(WithdrawalCount.Of(RosterFile(content), manifest.Withdrawn, rows, ids.PlacesWithout(found)));
        return (new ArchiveContent(manifest, left, findings.InOrder()), removed.Values.Sum(), found);
    }

    private static ArchiveFile Without(ArchiveFile file, WithdrawnIds ids, HashSet<string> found)
    {
        if (TableMetadata.ParticipantColumn(file) is not { } name || file.Column(name) is not Texts who)
            return file;
        List<int> stay = new(file.Rows);
        for (int row = 0; row < file.Rows; row++)
        {
            if (who.Values[row] is { } text && ids.Find(text) is { } listed)
                found.Add(listed);
            else
                stay.Add(row);
        }
        return stay.Count == file.Rows ? file : WithoutIdleReasons(file.Pick([.. stay]));
    }

    /// <summary>A column of reasons goes when nothing is missing any more, as if the persons had never been there.</summary>
    private static ArchiveFile WithoutIdleReasons(ArchiveFile file)
    {
        ImmutableArray<string> reasons = TableMetadata.ReasonColumns(file);
        return file with { Columns = [.. file.Columns.Where(c => c is not Texts text || !reasons.Contains(c.Name) || text.Values.Any(v => v is not null))] };
    }

    private static string RosterFile(ArchiveContent content)
        => content.Tables.Select(t => t.File.About).FirstOrDefault(a => a.ContainsKey(TableMetadata.Roster))?.GetValueOrDefault(TableMetadata.ExportFile)
            ?? content.Manifest.Accounts.FirstOrDefault()?.File ?? ArchiveManifest.FileName;
}

/// <summary>What was removed from an archive.</summary>
/// <param name="Participants">How many of the list were in it.</param>
/// <param name="Rows">Their rows.</param>
/// <param name="InAll">How many have been removed from it so far.</param>
/// <param name="Nowhere">Places of the list whose identifier was not in the archive.</param>
/// <param name="Sha256">Hash of the new manifest.</param>
public sealed record ArchiveWithdrawn(int Participants, int Rows, int InAll, ImmutableArray<string> Nowhere, string Sha256);
