using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Documents.Slides;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Commands;

/// <summary>Makes slides of the figures of a finished run, from the run's results alone.</summary>
internal static class SlidesCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> run = new("run") { Description = "Folder of a finished run" };
        Option<string> to = new("--to") { HelpName = "folder", Description = "Folder for the file", Required = true };
        Option<bool> dark = new("--dark") { Description = "On near black, for a dark room" };
        Option<string[]> figures = new("--figures") { HelpName = "ids", Description = "Only these figures, in this order", AllowMultipleArgumentsPerToken = true };
        Command command = new("slides", "Make slides of the figures of a finished run") { run, to, dark, figures };
        return (command, (parsed, _) => EarlierRun.With(parsed.GetRequiredValue(run), finished => Make(
            finished.Results, parsed.GetRequiredValue(to), parsed.GetValue(dark), parsed.GetValue(figures) ?? [])));
    }

    private static Outcome Make(StudyResults results, string folder, bool dark, string[] ids)
    {
        if (ids.FirstOrDefault(id => results.Figures.All(f => f.Id != id)) is { } stranger)
            return Outcome.Failed(ExitCode.Usage, $"This run has no figure '{stranger}'. Its figures are {string.Join(", ", results.Figures.Select(f => f.Id))}.");
        ImmutableArray<FigureRequest> figures = ids.Length == 0 ? results.Figures : [.. ids.Select(id => results.Figures.First(f => f.Id == id))];
        string name = dark ? "slides-dark.pptx" : "slides.pptx";
        EarlierRun.Write(folder, [(name, SlideDeck.Write(results, figures, dark))]);
        string path = Path.Combine(folder, name);
        return new Outcome(ExitCode.Done, [path], [], new JsonObject { ["file"] = path });
    }
}
