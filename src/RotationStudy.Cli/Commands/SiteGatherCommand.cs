using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Sharing;

namespace RotationStudy.Cli.Commands;

/// <summary>Joins the files of a round and says what the sites are asked next, until the answer is there.</summary>
internal static class SiteGatherCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> protocol = new("protocol") { Description = "Protocol folder, the same at all sites" };
        Argument<string[]> shares = new("shares") { Description = "Files of the sites, one each", Arity = ArgumentArity.OneOrMore };
        Option<string?> after = new("--after") { HelpName = "file", Description = "Request that they answer; none in the first round" };
        Option<string> to = new("--to") { Required = true, HelpName = "file", Description = "File to write: the next request, with the answer as far as it is known" };
        Command command = new("gather", "Join the sites' sums and ask for the next round, until the answer is there") { protocol, shares, after, to };
        return (command, (parsed, _) => Gather(
            parsed.GetRequiredValue(protocol), parsed.GetRequiredValue(shares), parsed.GetValue(after), parsed.GetRequiredValue(to)));
    }

    private static Outcome Gather(string folder, string[] files, string? after, string to)
    {
        StudyProtocol protocol = ProtocolReader.Read(folder);
        byte[]? previous = after is null ? null : File.ReadAllBytes(after);
        SiteRequest request = SiteGathering.Gather(
            protocol, SiteFile.HashOf(protocol),
            [.. files.Select(f => (f, SharingJson.ReadShare(File.ReadAllBytes(f), f)))],
            previous is null ? null : SharingJson.ReadRequest(previous, after!), previous is null ? null : SharingJson.Hash(previous), StudyRun.ProgramVersion);
        SiteFile.Write(to, SharingJson.Write(request));
        return new Outcome(ExitCode.Done, [.. Said(request, to)], [], new JsonObject
        {
            ["file"] = to,
            ["question"] = request.Question,
            ["asks_for"] = Word(request.Step),
            ["round"] = request.Round,
            ["sites"] = request.Sites.Length,
            ["persons"] = request.Persons,
            ["rows"] = request.Rows,
            ["answered_as_planned"] = request.Answer?.AsPlanned ?? false,
            ["estimates"] = new JsonArray([.. (request.Answer?.Estimates ?? []).Select(Fact)]),
        });
    }

    private static IEnumerable<string> Said(SiteRequest request, string to)
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"{request.Question}: {request.Sites.Length} sites, {request.Persons} persons, {request.Rows} rows.");
        foreach (string note in request.Notes)
            yield return note;
        if (request.Answer is { } answer)
        {
            yield return answer.Model;
            foreach (EstimateRow row in answer.Estimates)
                yield return $"{row.Label}: {row.Scale} {NumberFormat.EstimateAndInterval(row)}, {NumberFormat.PClause(row.PValue)}";
        }
        yield return request.Step switch
        {
            SharingStep.Done => $"The answer is as planned; {to} holds it.",
            SharingStep.Closing => $"The estimate is reached. The planned variance needs one more round: send {to} to the sites.",
            _ => string.Create(CultureInfo.InvariantCulture, $"Round {request.Round} is needed: send {to} to the sites."),
        };
    }

    private static JsonObject Fact(EstimateRow row) => new()
    {
        ["term"] = row.Term,
        ["scale"] = row.Scale,
        ["value"] = row.Value,
        ["lower"] = row.Lower,
        ["upper"] = row.Upper,
        ["p_value"] = row.PValue,
    };

    private static string Word(SharingStep step) => step switch
    {
        SharingStep.Sums => "sums",
        SharingStep.Closing => "closing",
        _ => "nothing",
    };
}
