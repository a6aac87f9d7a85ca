using System.CommandLine;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Commands;

/// <summary>Redraws a figure of a finished run for another use, from the run's results alone; what was changed is written beside it.</summary>
internal static class FigureCommand
{
    private static readonly JsonSerializerOptions Readable = new() { WriteIndented = true, NewLine = "\n" };

    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> run = new("run") { Description = "Folder of a finished run" };
        Argument<string> figure = new("figure") { Description = "Id of the figure; figures.html in the run folder shows all" };
        Option<string> use = new("--for") { HelpName = "use", Description = $"What it is for: {string.Join(", ", FigureFiles.Uses)}", Required = true };
        Option<string> to = new("--to") { HelpName = "folder", Description = "Folder for the files", Required = true };
        Option<string?> title = new("--title") { HelpName = "text", Description = "Another title" };
        Option<string[]> questions = new("--questions") { HelpName = "ids", Description = "Only these questions, in this order", AllowMultipleArgumentsPerToken = true };
        Option<double[]> across = new("--across") { HelpName = "ends", Description = "Lower and upper end of the horizontal axis (scatter, forest)", AllowMultipleArgumentsPerToken = true };
        Command command = new("figure", "Redraw a figure of a finished run for a journal, a slide or a poster") { run, figure, use, to, title, questions, across };
        return (command, (parsed, _) => EarlierRun.With(parsed.GetRequiredValue(run), finished => Redraw(
            finished, parsed.GetRequiredValue(figure), parsed.GetRequiredValue(use), parsed.GetRequiredValue(to),
            new Changes(parsed.GetValue(title), [.. parsed.GetValue(questions) ?? []], parsed.GetValue(across) ?? []))));
    }

    private static Outcome Redraw(EarlierRun finished, string id, string use, string folder, Changes changes)
    {
        (RunRecord record, StudyResults results) = finished;
        FigureRequest? declared = results.Figures.FirstOrDefault(f => f.Id == id);
        if (declared is null)
            return Outcome.Failed(ExitCode.Usage, $"This run has no figure '{id}'. Its figures are {string.Join(", ", results.Figures.Select(f => f.Id))}.");
        if (!FigureFiles.Uses.Contains(use))
            return Outcome.Failed(ExitCode.Usage, $"No use of a figure is called '{use}'. Uses are {string.Join(", ", FigureFiles.Uses)}.");
        if (changes.Fault(declared) is { } refused)
            return Outcome.Failed(ExitCode.Usage, refused);
        string files = $"{id}-{use}";
        List<(string Name, byte[] Content)> drawn = [.. FigureFiles.Draw(results, changes.ApplyTo(declared), use, files)];
        drawn.Add((files + ".json", Encoding.UTF8.GetBytes(Account(record, id, use, changes).ToJsonString(Readable) + "\n")));
        EarlierRun.Write(folder, drawn);
        return new Outcome(
            ExitCode.Done, [.. drawn.Select(d => Path.Combine(folder, d.Name))], [],
            new JsonObject { ["files"] = new JsonArray([.. drawn.Select(d => JsonValue.Create(Path.Combine(folder, d.Name)))]) });
    }

    private static JsonObject Account(RunRecord record, string id, string use, Changes changes) => new()
    {
        ["figure"] = id,
        ["use"] = use,
        ["changed_title"] = changes.Title,
        ["changed_questions"] = new JsonArray([.. changes.Questions.Select(q => JsonValue.Create(q))]),
        ["changed_axis_across"] = new JsonArray([.. changes.Across.Select(v => JsonValue.Create(v))]),
        ["study"] = record.StudyId,
        ["program_version"] = record.ProgramVersion,
        ["protocol_sha256"] = record.ProtocolSha256,
        ["exports_sha256"] = record.ExportsSha256,
    };

    private sealed record Changes(string? Title, string[] Questions, double[] Across)
    {
        internal FigureRequest ApplyTo(FigureRequest declared) => declared with
        {
            Title = Title ?? declared.Title,
            Questions = Questions.Length > 0 ? [.. Questions] : declared.Questions,
            Across = Across.Length > 0 ? [.. Across] : declared.Across,
        };

        /// <summary>Why these changes do not suit the figure; null when they do.</summary>
        internal string? Fault(FigureRequest declared)
        {
            if (Questions.FirstOrDefault(q => !declared.Questions.Contains(q)) is { } stranger)
                return $"Figure '{declared.Id}' does not draw question '{stranger}'. It draws {(declared.Questions.IsEmpty ? "the whole study" : string.Join(", ", declared.Questions))}.";
            if (Across.Length == 0)
                return null;
            if (!FigureCatalog.TakesAxis(declared.Kind))
                return $"Only a scatter or a forest, or a curve over a measure, takes another horizontal axis; figure '{declared.Id}' is a {declared.Kind}.";
            if (Across.Length != 2 || !Across.All(double.IsFinite) || Across[0] >= Across[1])
                return "--across takes two numbers, the lower end first, such as --across 0 40.";
            return declared.Kind == "estimate_forest" && Across[0] <= 0 ? "The axis of a forest of ratios begins above 0." : null;
        }
    }
}
