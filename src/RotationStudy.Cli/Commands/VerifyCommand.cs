using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Record;

namespace RotationStudy.Cli.Commands;

/// <summary>Compares a run folder with its record and says which entry or file differs.</summary>
internal static class VerifyCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> run = new("run") { Description = "Folder of a finished run" };
        Option<string?> head = new("--head") { HelpName = "hash", Description = "The head of the record that was noted when the run was made, at least its first 12 characters" };
        Command command = new("verify", "Say whether a run folder is as its record says, and which entry or file is not") { run, head };
        return (command, (parsed, _) => Act(parsed.GetRequiredValue(run), parsed.GetValue(head)));
    }

    private static Outcome Act(string run, string? head)
    {
        VerifiedRun verified = RunVerifier.Verify(run, head);
        JsonObject facts = new()
        {
            ["run"] = run,
            ["intact"] = verified.Departures.IsEmpty,
            ["entries"] = verified.Entries,
            ["files"] = verified.Files,
            ["head"] = verified.Record?.ChainHead,
            ["head_compared"] = head is not null,
            ["departures"] = new JsonArray([.. verified.Departures.Select(d => new JsonObject { ["place"] = d.Place, ["what"] = d.What })]),
        };
        return verified.Departures.IsEmpty
            ? new Outcome(ExitCode.Done, [Intact(verified), Head(verified, head)], [], facts)
            : new Outcome(ExitCode.RunChanged, [], [.. verified.Departures.Select(d => $"{d.Place}: {d.What}")], facts);
    }

    private static string Intact(VerifiedRun verified)
        => $"Nothing was changed: {verified.Entries} entries follow from each other and {verified.Files} files are as they were written.";

    private static string Head(VerifiedRun verified, string? head)
        => head is null
            ? $"Head: {verified.Record!.ChainHead}. Compare it with the one noted when the run was made (--head): only that shows a record made anew as a whole."
            : "The head is the one noted.";
}
