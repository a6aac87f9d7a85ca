using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Sharing;

namespace RotationStudy.Cli.Commands;

/// <summary>What a site hands out of its own export in one round: counts and sums, no row.</summary>
internal static class SiteShareCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder, the same at all sites" };
        Argument<string> exports = new("exports") { Description = "Folder with this site's export files" };
        Option<string> question = new("--question") { Required = true, HelpName = "id", Description = "Question of the plan: kind mean, odds or rate" };
        Option<string?> site = new("--site") { HelpName = "code", Description = "Site to share, where the export holds several" };
        Option<string?> answers = new("--answers") { HelpName = "file", Description = "Request of the last round; none in the first round" };
        Option<string> to = new("--to") { Required = true, HelpName = "file", Description = "File to write" };
        Command command = new("share", "Hand out this site's sums for a question, or refuse") { protocol, exports, question, site, answers, to };
        return (command, (parsed, session) => session.Steps(steps => Share(
            CheckedExport.Read(parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(exports), steps, session.Cancellation),
            parsed.GetRequiredValue(question), parsed.GetValue(site), parsed.GetValue(answers), parsed.GetRequiredValue(to))));
    }

    private static Outcome Share(CheckedExport export, string question, string? site, string? answers, string to)
    {
        if (export.Records.MustStop)
            return new Outcome(ExitCode.ExportFindings, [], [.. export.Stops(), "Nothing was shared."], export.Facts());
        byte[]? request = answers is null ? null : File.ReadAllBytes(answers);
        SiteShare share = SiteSharing.Share(
            export.Protocol, SiteFile.HashOf(export.Protocol), MeasureDeriver.Derive(export.Protocol, export.Records), question, site,
            request is null ? null : SharingJson.ReadRequest(request, answers!), request is null ? null : SharingJson.Hash(request), StudyRun.ProgramVersion);
        SiteFile.Write(to, SharingJson.Write(share));
        int numbers = share.Sums?.CountNumbers() ?? share.Robust!.CountNumbers();
        return new Outcome(
            ExitCode.Done,
            [
                $"{question}, round {share.Round}: site {share.Site} hands out {numbers} numbers, sums over {share.Persons} persons.",
                $"{to} holds no row and no identifier; docs/sharing-sites.md says what it reveals. Send it to whoever gathers.",
            ],
            [],
            new JsonObject
            {
                ["file"] = to,
                ["question"] = question,
                ["site"] = share.Site,
                ["round"] = share.Round,
                ["persons"] = share.Persons,
                ["numbers"] = numbers,
            });
    }
}
