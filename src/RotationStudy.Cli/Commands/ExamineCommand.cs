using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Checks;

namespace RotationStudy.Cli.Commands;

/// <summary>Checks an export and writes the query list; analyses nothing.</summary>
internal static class ExamineCommand
{
    private const string QueryFile = CheckedExport.QueryFile;

    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder" };
        Argument<string> exports = new("exports") { Description = "Folder with the export files" };
        Option<string?> to = new("--to") { HelpName = "folder", Description = $"Folder for the query list ({QueryFile})" };
        Command command = new("examine", "Check an export and list what to ask the sites; analyse nothing") { protocol, exports, to };
        return (command, (parsed, session) => Examine(
            parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(exports), parsed.GetValue(to), session));
    }

    private static Outcome Examine(string protocolFolder, string exportFolder, string? to, Session session)
    {
        CheckedExport export = session.Steps(steps => CheckedExport.Read(protocolFolder, exportFolder, steps, session.Cancellation));
        List<string> said = [.. export.Summary()];
        JsonObject facts = export.Facts();
        if (to is not null)
        {
            string path = WriteQueries(export.Records, to);
            said.Add($"The query list is {path}.");
            facts["query_list"] = path;
        }
        return export.Records.MustStop
            ? new Outcome(ExitCode.ExportFindings, said, export.Stops(), facts)
            : new Outcome(ExitCode.Done, said, [], facts);
    }

    private static string WriteQueries(CheckedRecords records, string folder)
    {
        Directory.CreateDirectory(folder);
        string final = Path.Combine(folder, QueryFile);
        string unfinished = Path.Combine(folder, $".{QueryFile}.unfinished");
        using (FileStream stream = new(unfinished, FileMode.Create))
            QueryList.Write(records.Findings, stream);
        File.Move(unfinished, final, overwrite: true);
        return final;
    }
}
