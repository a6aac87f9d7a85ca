using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Planning;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Commands;

/// <summary>Says how many participants the targets of planning.yaml need, and what the planned number can find.</summary>
internal static class SampleSizeCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> folder = new("protocol") { Description = "Protocol folder with planning.yaml" };
        Option<int?> participants = new("--participants") { HelpName = "n", Description = "Participants to enrol, instead of those in planning.yaml" };
        Command command = new("sample-size", "How many participants the targets of planning.yaml need, and what the planned number can find") { folder, participants };
        return (command, (parsed, _) => Act(ProtocolReader.Read(parsed.GetRequiredValue(folder)), parsed.GetValue(participants)));
    }

    private static Outcome Act(StudyProtocol protocol, int? participants)
    {
        if (participants is < 2)
            return Outcome.Failed(ExitCode.Usage, $"--participants {participants} cannot be. Give 2 or more.");
        if (protocol.Size is null)
            return Outcome.Failed(ExitCode.ProtocolFaults, "The protocol has no planning.yaml, so nothing says what the study is to find. protocols/README.md shows what to write.");
        ImmutableArray<SampleSize> sizes = SampleSizes.Of(protocol, participants);
        List<string> said = [];
        foreach (SampleSize size in sizes)
            said.AddRange(Words(size));
        said.Add("These are approximations for a first plan. They hold only as well as their assumptions; ask a statistician before enrolment depends on them.");
        return new Outcome(ExitCode.Done, said, [], new JsonObject { ["study"] = protocol.Study.Id, ["targets"] = new JsonArray([.. sizes.Select(Facts)]) });
    }

    private static IEnumerable<string> Words(SampleSize size)
    {
        CultureInfo plain = CultureInfo.InvariantCulture;
        yield return $"{size.Label}{(size.Question is null ? "" : $" ({size.Question})")}: {size.Aim}";
        string rows = size.DesignEffect is { } design ? string.Create(plain, $", {size.Rows:0} rows, design effect {design:0.00}") : "";
        string events = size.Events is { } expected ? string.Create(plain, $", {expected:0} events") : "";
        yield return string.Create(plain, $"    needs {size.Participants:0} participants{rows}{events} ({size.Method})");
        string power = size.PowerOfPlanned is { } p ? string.Create(plain, $"a power of {100 * p:0.0}%; with the power asked for they find ") : "";
        yield return string.Create(plain, $"    {size.Planned} participants {(size.Enough ? "are enough" : "are too few")}: {power}{size.FoundByPlanned}");
        yield return $"    {size.Assumptions} {size.Source}";
    }

    private static JsonNode Facts(SampleSize size) => new JsonObject
    {
        ["id"] = size.Id,
        ["label"] = size.Label,
        ["question"] = size.Question,
        ["aim"] = size.Aim,
        ["participants_needed"] = size.Participants,
        ["rows_needed"] = size.Rows,
        ["events_expected"] = size.Events,
        ["design_effect"] = size.DesignEffect,
        ["participants_planned"] = size.Planned,
        ["power_of_planned"] = size.PowerOfPlanned,
        ["found_by_planned"] = size.FoundByPlanned,
        ["enough"] = size.Enough,
        ["method"] = size.Method,
        ["assumptions"] = size.Assumptions,
        ["source"] = size.Source,
    };
}
