using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Guard;

namespace RotationStudy.Cli.Commands;

/// <summary>Checks an export and writes the query lists; analyses nothing.</summary>
internal static class ExamineCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder" };
        Argument<string> exports = new("exports") { Description = "Folder with the export files, or an archive of checked records" };
        Option<string?> to = new("--to") { HelpName = "folder", Description = "Folder for the query list (query-list.csv, .xlsx) and those of each site (queries/)" };
        Option<string?> withdrawn = CommonOptions.Withdrawn();
        Option<string?> previous = CommonOptions.Previous();
        Command command = new("examine", "Check an export and list what to ask the sites; analyse nothing") { protocol, exports, to, withdrawn, previous };
        return (command, (parsed, session) => Examine(
            parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(exports), parsed.GetValue(to), parsed.GetValue(withdrawn), parsed.GetValue(previous), session));
    }

    private static Outcome Examine(string protocolFolder, string exportFolder, string? to, string? withdrawn, string? previous, Session session)
    {
        if (previous is not null && to is null)
            return Outcome.Failed(ExitCode.Usage, "--previous says what became of earlier queries in the new list; name a folder for it with --to.");
        CheckedExport export = session.Steps(steps => CheckedExport.Read(protocolFolder, exportFolder, steps, session.Cancellation, withdrawn));
        List<string> said = [.. export.Summary()];
        JsonObject facts = export.Facts();
        if (to is not null)
        {
            IReadOnlyList<(string Name, byte[] Content)> files = export.QueryFiles(previous);
            if (GuardReport.Csv(export.Records.Findings) is { } identifying)
            {
                files = [.. files, (GuardReport.FileName, identifying)];
                said.Add($"What identifies people, and where, is in {Path.Combine(to, GuardReport.FileName)}; no value is repeated there.");
            }
            FilesInPlace.Write(to, files);
            said.Add($"The query list is {Path.Combine(to, files[0].Name)}; those of the sites are in {Path.Combine(to, "queries")}.");
            facts["query_list"] = Path.Combine(to, files[0].Name);
        }
        return export.Records.MustStop
            ? new Outcome(ExitCode.ExportFindings, said, export.Stops(), facts)
            : new Outcome(ExitCode.Done, said, [], facts);
    }
}
