using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Templates;

namespace RotationStudy.Cli.Commands;

/// <summary>Writes empty files for the sites out of the protocol.</summary>
internal static class TemplateCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder" };
        Option<string> to = new("--to") { Required = true, HelpName = "folder", Description = "New or empty folder for the template" };
        Command command = new("template", "Write empty files for the sites to fill in: CSV, and workbooks with drop-downs") { protocol, to };
        return (command, (parsed, _) => Write(parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(to)));
    }

    private static Outcome Write(string protocolFolder, string to)
    {
        StudyProtocol protocol = ProtocolReader.Read(protocolFolder);
        if (Directory.Exists(to) && Directory.EnumerateFileSystemEntries(to).Any())
            return Outcome.Failed(ExitCode.Files, $"{to}: The folder holds files already, perhaps ones that a site filled in. Choose an empty or new folder with --to.");
        (string Name, byte[] Content)[] files = [.. SiteTemplate.Files(protocol)];
        FilesInPlace.Write(to, files);
        return new Outcome(
            ExitCode.Done,
            [
                $"{protocol.Tables.Length} tables as empty files: {Path.Combine(to, "csv")} and, with drop-downs, {Path.Combine(to, "workbooks")}.",
                $"What to send and what never to send is in {Path.Combine(to, "read-me.txt")}, every column in {Path.Combine(to, "columns.csv")}.",
            ],
            [],
            new JsonObject { ["folder"] = to, ["files"] = new JsonArray([.. files.Select(f => JsonValue.Create(f.Name))]) });
    }
}
