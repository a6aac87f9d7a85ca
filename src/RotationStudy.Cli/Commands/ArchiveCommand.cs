using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Record;
using RotationStudy.Study.Archive;

namespace RotationStudy.Cli.Commands;

/// <summary>Checks an export and keeps the checked records as an archive, from which studies can be made later.</summary>
internal static class ArchiveCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder" };
        Argument<string> exports = new("exports") { Description = "Folder with the export files" };
        Option<string> to = new("--to") { Required = true, HelpName = "folder", Description = "Archive folder to make" };
        Option<bool> replace = new("--replace") { Description = "Replace an archive that lies there" };
        Option<string?> withdrawn = CommonOptions.Withdrawn();
        Command command = new("archive", "Check an export and keep the checked records, with hashes, for later studies") { protocol, exports, to, replace, withdrawn };
        return (command, (parsed, session) => Keep(
            parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(exports), parsed.GetRequiredValue(to), parsed.GetValue(replace),
            parsed.GetValue(withdrawn), session));
    }

    private static Outcome Keep(string protocolFolder, string exportFolder, string to, bool replace, string? withdrawn, Session session)
        => session.Steps(steps =>
        {
            CheckedExport export = CheckedExport.Read(protocolFolder, exportFolder, steps, session.Cancellation, withdrawn);
            if (export.Records.MustStop)
                return export.Stopped(protocolFolder, exportFolder);
            using ArchiveFolder folder = ArchiveFolder.Open(to, replace);
            steps.Report("Writing the archive");
            string hash = RecordArchive.Write(export.Protocol, export.Records, StudyRun.ProgramVersion, folder.Write);
            steps.Report("Moving the archive into place");
            folder.Complete();
            JsonObject facts = export.Facts();
            facts["folder"] = to;
            facts["archive_sha256"] = hash;
            return new Outcome(
                ExitCode.Done,
                [.. export.Summary(), $"The archive is {to}, its hash {hash}.", $"A study from it: rotationstudy study {protocolFolder} {to} --to <run folder>"],
                [], facts);
        });
}
