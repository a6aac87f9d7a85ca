using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Record;
using RotationStudy.Study.Archive;
using RotationStudy.Study.Withdrawal;

namespace RotationStudy.Cli.Commands;

/// <summary>Removes those who withdrew consent from an archive that was made before they did.</summary>
internal static class WithdrawCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> archive = new("archive") { Description = "Archive of checked records; it is replaced" };
        Argument<string> list = new("list") { Description = "Identifiers of those who withdrew consent, one a line" };
        Command command = new("withdraw", "Remove those who withdrew consent from an archive; a count and new hashes stay") { archive, list };
        return (command, (parsed, session) => Remove(parsed.GetRequiredValue(archive), parsed.GetRequiredValue(list), session));
    }

    private static Outcome Remove(string archive, string list, Session session) => session.Steps(steps =>
    {
        steps.Report("Reading the list");
        WithdrawnIds ids = WithdrawnIds.Read(list);
        // An archive that a kill left aside is put back by opening its place; anything else that is no archive is not opened.
        if (Directory.Exists(archive) && !RecordArchive.IsIn(archive))
            return Outcome.Failed(ExitCode.Files, $"{archive}: This folder holds no archive of checked records and is left alone. Look at the path.");
        using ArchiveFolder folder = ArchiveFolder.Open(archive, overwrite: true);
        steps.Report("Removing");
        ArchiveWithdrawn removed = ArchiveWithdrawal.Apply(archive, ids, folder.Write);
        List<string> said = [];
        if (removed.Participants == 0)
        {
            said.Add($"No identifier of the list ({ids.Count}) is in this archive, which is left as it was.");
        }
        else
        {
            folder.Complete();
            said.Add($"Participants removed: {removed.Participants}, with {removed.Rows} rows. Removed from this archive so far: {removed.InAll}.");
            said.Add($"The hash of the archive is now {removed.Sha256}.");
            said.Add("Copies, backups and reports that were made before are not touched: replace them too.");
        }
        if (!removed.Nowhere.IsEmpty && removed.Participants > 0)
            said.Add($"Identifiers of the list that are not in this archive: {removed.Nowhere.Length} ({string.Join(", ", removed.Nowhere.Take(5))}).");
        return new Outcome(ExitCode.Done, said, [], new JsonObject
        {
            ["folder"] = archive,
            ["participants_removed"] = removed.Participants,
            ["rows_removed"] = removed.Rows,
            ["removed_in_all"] = removed.Participants == 0 ? null : removed.InAll,
            ["not_in_archive"] = removed.Nowhere.Length,
            ["archive_sha256"] = removed.Participants == 0 ? null : removed.Sha256,
        });
    });
}
