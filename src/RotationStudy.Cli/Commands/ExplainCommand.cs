using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Commands;

/// <summary>Explains a measure of a protocol in the words of the report's appendix, or lists the measures.</summary>
internal static class ExplainCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> folder = new("protocol") { Description = "Protocol folder" };
        Argument<string?> measure = new("measure") { Description = "Id of a measure; without one, all are listed", Arity = ArgumentArity.ZeroOrOne };
        Command command = new("explain", "Explain a measure: definition, position, sign, norm, source, error, limits, and who uses it") { folder, measure };
        return (command, (parsed, _) => Act(ProtocolReader.Read(parsed.GetRequiredValue(folder)), parsed.GetValue(measure)));
    }

    private static Outcome Act(StudyProtocol protocol, string? id)
    {
        if (id is null)
            return List(protocol);
        return protocol.Measures.FirstOrDefault(m => m.Id == id) is { } measure
            ? Explain(protocol, measure)
            : Outcome.Failed(ExitCode.Usage, $"No measure is called '{id}'. {MeasureExplainer.HintFor(protocol, id)}");
    }

    private static Outcome List(StudyProtocol protocol)
    {
        int width = protocol.Measures.Select(m => m.Id.Length).DefaultIfEmpty(0).Max();
        List<string> said = [.. protocol.Measures.Select(m => $"{m.Id.PadRight(width)}  {m.Label}{(m.Unit is null ? "" : $" ({m.Unit})")}")];
        JsonArray measures = new([.. protocol.Measures.Select(m => new JsonObject { ["id"] = m.Id, ["label"] = m.Label, ["unit"] = m.Unit })]);
        return new Outcome(ExitCode.Done, said, [], new JsonObject { ["study"] = protocol.Study.Id, ["measures"] = measures });
    }

    private static Outcome Explain(StudyProtocol protocol, MeasureDefinition measure)
    {
        ImmutableArray<ExplainedPoint> points = MeasureExplainer.Explain(protocol, measure);
        string[] said = [$"{measure.Label} ({measure.Id})", .. PointLines.Of(points)];
        return new Outcome(ExitCode.Done, said, [], new JsonObject
        {
            ["study"] = protocol.Study.Id,
            ["measure"] = measure.Id,
            ["label"] = measure.Label,
            ["points"] = PointLines.Json(points),
        });
    }
}
