using System.CommandLine;
using System.CommandLine.Invocation;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Commands;

namespace RotationStudy.Cli.Running;

/// <summary>The command line: parses, runs one command, prints what it has to say, and answers with an exit code.</summary>
internal static class CommandLine
{
    private static readonly JsonSerializerOptions JsonOptions = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Runs a command line.</summary>
    /// <param name="args">Arguments.</param>
    /// <param name="output">Where results are printed.</param>
    /// <param name="error">Where faults and progress are shown.</param>
    /// <param name="terminal">Whether a person watches <paramref name="error"/>.</param>
    /// <param name="cancellation">Signalled when the user interrupts.</param>
    internal static int Run(IReadOnlyList<string> args, TextWriter output, TextWriter error, bool terminal, CancellationToken cancellation)
    {
        Option<bool> quiet = new("--quiet") { Description = "Print faults only", Recursive = true };
        Option<bool> json = new("--json") { Description = "Print one JSON object about the outcome instead of text", Recursive = true };
        RootCommand root = new("From de-identified exports of a cohort to a study report that can be made again, byte for byte.") { quiet, json };
        foreach ((Command command, Func<ParseResult, Session, Outcome> act) in Commands())
        {
            command.SetAction(parsed => Act(parsed, command.Name, act));
            root.Add(command);
        }
        Command site = new("site", "Answer a question from sums of sites that share no rows");
        foreach ((Command command, Func<ParseResult, Session, Outcome> act) in new[] { SiteShareCommand.Define(), SiteGatherCommand.Define() })
        {
            command.SetAction(parsed => Act(parsed, $"site {command.Name}", act));
            site.Add(command);
        }
        root.Add(site);
        TeachingHelp.AddTo(root);
        ParseResult result = root.Parse(args);
        if (result.Action is ParseErrorAction)
            return Refuse(result, error);
        return result.Invoke(new InvocationConfiguration
        {
            Output = output,
            Error = error,
            EnableDefaultExceptionHandler = false,
            ProcessTerminationTimeout = null,
        });

        int Act(ParseResult parsed, string name, Func<ParseResult, Session, Outcome> act)
        {
            Session session = new(error, terminal && !parsed.GetValue(quiet) && !parsed.GetValue(json), cancellation);
            Outcome outcome = Attempt(() => act(parsed, session));
            if (parsed.GetValue(json))
                output.Write(Json(name, outcome));
            else if (!parsed.GetValue(quiet))
                WriteLines(output, outcome.Said);
            WriteLines(error, outcome.Faults);
            return (int)outcome.Code;
        }
    }

    private static IEnumerable<(Command Command, Func<ParseResult, Session, Outcome> Act)> Commands()
        =>
        [
            DemoCommand.Define(),
            StudyCommand.Define(),
            ExamineCommand.Define(),
            ArchiveCommand.Define(),
            WithdrawCommand.Define(),
            TemplateCommand.Define(),
            ProtocolCommand.Define(),
            ExplainCommand.Define(),
            CohortCommand.Define(),
            SampleSizeCommand.Define(),
            FigureCommand.Define(),
            SlidesCommand.Define(),
            VerifyCommand.Define(),
            TraceCommand.Define(),
            SealCommand.Define(),
            AuditCommand.Define(),
        ];

    private static Outcome Attempt(Func<Outcome> act)
    {
#pragma warning disable CA1031 // The last resort of a program: whatever comes here becomes words and an exit code.
        try
        {
            return act();
        }
        catch (Exception fault)
        {
            return FaultWords.Of(fault);
        }
#pragma warning restore CA1031
    }

    private static int Refuse(ParseResult result, TextWriter error)
    {
        foreach (string message in result.Errors.Select(e => e.Message).Distinct())
            error.WriteLine(message);
        string command = result.CommandResult.Command is RootCommand ? "" : " " + result.CommandResult.Command.Name;
        error.WriteLine($"Try: rotationstudy{command} --help");
        return (int)ExitCode.Usage;
    }

    private static void WriteLines(TextWriter writer, IReadOnlyList<string> lines)
    {
        foreach (string line in lines)
            writer.WriteLine(line);
    }

    private static string Json(string command, Outcome outcome)
    {
        JsonObject all = new()
        {
            ["command"] = command,
            ["exit_code"] = (int)outcome.Code,
            ["faults"] = new JsonArray([.. outcome.Faults.Select(f => JsonValue.Create(f))]),
        };
        foreach ((string key, JsonNode? value) in outcome.Facts)
            all[key] = value?.DeepClone();
        return all.ToJsonString(JsonOptions) + "\n";
    }
}
