using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Cli.Commands;

/// <summary>Reads a protocol folder strictly and says what it holds.</summary>
internal static class ProtocolCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> folder = new("protocol") { Description = "Folder with study.yaml, tables.yaml, measures.yaml, plan.yaml, figures.yaml and, where it declares checks, checks.yaml" };
        Command command = new("protocol", "Read a protocol strictly and say what it holds") { folder };
        return (command, (parsed, _) => Describe(ProtocolReader.Read(parsed.GetRequiredValue(folder))));
    }

    private static Outcome Describe(StudyProtocol protocol)
    {
        List<string> said =
        [
            $"{protocol.Study.Title} (version {protocol.Study.Version})",
            $"Plan dated {protocol.Plan.Dated:yyyy-MM-dd}: {protocol.Plan.Questions.Length} questions, {protocol.Measures.Length} measures, {protocol.Figures.Length} figures.",
            "Files of an export:",
        ];
        said.AddRange(protocol.Tables.Select(t => $"  {t.File} ({t.Label}, {t.Columns.Length} columns{(t.Required ? "" : ", may be missing")})"));
        said.Add("Questions:");
        said.AddRange(protocol.Plan.Questions.Select(q => $"  {q.Id} {q.Title}"));
        said.Add($"Checks ({protocol.Checks.Length} of this study, the others of every study):");
        said.AddRange(CheckListing.Of(protocol).Select(c => $"  {c.Id} [{c.Does}] {(c.Table.Length == 0 ? string.Empty : c.Table + ": ")}{c.Label}"));
        said.Add("No faults.");
        return new Outcome(ExitCode.Done, said, [], new JsonObject
        {
            ["study"] = protocol.Study.Id,
            ["version"] = protocol.Study.Version,
            ["tables"] = Names(protocol.Tables.Select(t => t.Name)),
            ["measures"] = Names(protocol.Measures.Select(m => m.Id)),
            ["checks"] = Names(CheckListing.Of(protocol).Select(c => c.Id)),
            ["questions"] = Names(protocol.Plan.Questions.Select(q => q.Id)),
            ["figures"] = Names(protocol.Figures.Select(f => f.Id)),
        });
    }

    private static JsonArray Names(IEnumerable<string> names) => new([.. names.Select(n => JsonValue.Create(n))]);
}
