using System.CommandLine;
using RotationStudy.Cli.Running;

namespace RotationStudy.Cli.Commands;

/// <summary>Carries out a protocol on an export and writes the report.</summary>
internal static class StudyCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder" };
        Argument<string> exports = new("exports") { Description = "Folder with the export files, or an archive of checked records" };
        Option<string> to = new("--to") { Required = true, HelpName = "folder", Description = "Run folder to make" };
        Option<bool> replace = new("--replace") { Description = "Replace a finished run that lies there" };
        Option<string?> withdrawn = CommonOptions.Withdrawn();
        Option<string?> previous = CommonOptions.Previous();
        Command command = new("study", "Carry out a protocol on an export and write the report") { protocol, exports, to, replace, withdrawn, previous };
        return (command, (parsed, session) => StudyRun.Run(
            parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(exports), parsed.GetRequiredValue(to), parsed.GetValue(replace), session,
            parsed.GetValue(withdrawn), parsed.GetValue(previous)));
    }
}
