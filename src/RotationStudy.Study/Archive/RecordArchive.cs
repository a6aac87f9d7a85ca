using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Study.Archive;

/// <summary>Writes a file of a folder: its name, and what fills it. The stream can be read back and is closed by the writer.</summary>
/// <param name="name">Name of the file.</param>
/// <param name="fill">Fills it.</param>
public delegate void FileWriting(string name, Action<Stream> fill);

/// <summary>Checked records as a folder that later stages, and other programs, read instead of the export.</summary>
/// <remarks>
/// One Parquet file per table and one of findings, a manifest (archive.json) and a list of hashes in the form that common
/// tools check (archive.sha256). What is read from an archive equals what was written, to the bit, so a study from it gives
/// the same report. Nothing is used whose hash does not agree.
/// </remarks>
public static class RecordArchive
{
    /// <summary>Whether a folder holds an archive.</summary>
    public static bool IsIn(string folder) => File.Exists(Path.Combine(folder, ArchiveManifest.FileName));

    /// <summary>Writes the files of an archive.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Records without a finding that stops.</param>
    /// <param name="programVersion">Version of the program.</param>
    /// <param name="write">Writes one file.</param>
    /// <returns>SHA-256 of the manifest, which holds the hashes of the other files.</returns>
    /// <exception cref="InvalidOperationException">The records hold a finding that stops.</exception>
    public static string Write(StudyProtocol protocol, CheckedRecords records, string programVersion, FileWriting write)
    {
        if (records.MustStop)
            throw new InvalidOperationException("These records hold a finding that stops the run.");
        ArchiveManifest manifest = new(
            ArchiveManifest.CurrentForm, protocol.Study.Id, protocol.Study.Version, programVersion, FileHash.OfAll(protocol.Files), protocol.Files,
            RecordShape.Of(protocol), records.Files, records.Accounts, records.Withdrawn, [], new ArchivedTable(string.Empty, string.Empty, 0, string.Empty, 0));
        return new ArchiveContent(manifest, [.. records.Tables.Select(t => (t.Definition.Name, RecordFile.Of(t, protocol)))], records.Findings).Write(write);
    }

    /// <summary>Reads the records of an archive.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="protocol">The protocol, whose tables, visits, sites and checks must be those that the archive was made with.</param>
    /// <param name="withdrawn">Who withdrew consent since; they are left out.</param>
    /// <exception cref="ArchiveError">A file is missing, changed or damaged, or the protocol is another.</exception>
    /// <exception cref="IOException">A file cannot be read.</exception>
    public static CheckedRecords Read(string folder, StudyProtocol protocol, WithdrawnIds withdrawn)
    {
        ArchiveContent content = ArchiveContent.Open(folder);
        ImmutableArray<string> changed = RecordShape.Differences(content.Manifest.ShapedBy, RecordShape.Of(protocol));
        if (!changed.IsEmpty)
        {
            throw new ArchiveError(
                Path.Combine(folder, ArchiveManifest.FileName),
                $"The records were checked with another protocol: {string.Join(", ", changed)} {(changed.Length == 1 ? "is" : "are")} not the same.",
                $"{ArchiveContent.Anew[..^1]}, or name the protocol that it was made with.");
        }
        content = ArchiveWithdrawal.From(content, withdrawn).Content;
        return new CheckedRecords(
            [.. protocol.Tables.Select(t => TableOf(folder, content, t))], content.Findings, content.Manifest.Accounts, content.Manifest.ExportFiles)
        {
            Withdrawn = content.Manifest.Withdrawn,
        };
    }

    private static RecordTable TableOf(string folder, ArchiveContent content, TableDefinition definition)
    {
        int at = content.Manifest.Tables.ToList().FindIndex(t => t.Table == definition.Name);
        if (at < 0)
            throw new ArchiveError(Path.Combine(folder, ArchiveManifest.FileName), $"The table '{definition.Name}' is missing.", ArchiveContent.Anew);
        string path = Path.Combine(folder, content.Manifest.Tables[at].File);
        RecordTable table = ArchiveContent.Understood(path, () => RecordFile.Read(content.Tables[at].File, definition));
        int used = content.Manifest.Accounts.Where(a => a.Table == definition.Name).Sum(a => a.Used);
        return table.Rows == used
            ? table
            : throw new ArchiveError(path, $"The file holds {table.Rows} rows, and the account of rows says {used}.", ArchiveContent.Anew);
    }
}
