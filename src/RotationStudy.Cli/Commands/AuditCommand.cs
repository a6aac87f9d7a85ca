using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Audit;
using RotationStudy.Report.Record;
using RotationStudy.Study;
using RotationStudy.Study.Results;
using RotationStudy.Study.SecondRun;

namespace RotationStudy.Cli.Commands;

/// <summary>An auditor's second run: of the same exports, compared byte by byte; of fresh ones, what changed, by how much, and because of whom.</summary>
internal static class AuditCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> run = new("run") { Description = "Folder of the archived run; it holds its protocol" };
        Argument<string> exports = new("exports") { Description = "The exports of that run, or fresh ones" };
        Option<string?> earlier = new("--earlier") { HelpName = "folder", Description = "With fresh exports: the exports of the archived run, or their archive of checked records" };
        Option<string> to = new("--to") { Required = true, HelpName = "folder", Description = $"Folder for {SecondRunFiles.Page} and {SecondRunFiles.Machine}" };
        Option<string?> withdrawn = CommonOptions.Withdrawn();
        Option<string?> previous = CommonOptions.Previous();
        Command command = new("audit", "Carry out an archived run a second time and say what is not the same, and because of whom") { run, exports, earlier, to, withdrawn, previous };
        return (command, (parsed, session) => FinishedRun.Read(parsed.GetRequiredValue(run), out Outcome? refused) is { } archived
            ? session.Steps(steps => Audit(
                archived, new Given(parsed.GetRequiredValue(exports), parsed.GetValue(earlier), parsed.GetValue(withdrawn), parsed.GetValue(previous)),
                parsed.GetRequiredValue(to), steps, session.Cancellation))
            : refused!);
    }

    private static Outcome Audit(FinishedRun archived, Given given, string to, IProgress<string> steps, CancellationToken cancellation)
    {
        string protocol = Path.Combine(archived.Folder, StudyRun.KeptProtocol);
        CheckedExport export = CheckedExport.Read(protocol, given.Exports, steps, cancellation, given.Withdrawn);
        if (export.Records.MustStop)
            return export.Stopped(protocol, given.Exports);
        return IsOf(archived.Record, export)
            ? Tell(Repeat(archived, export, protocol, given.Previous, steps), to)
            : WithFresh(archived, export, protocol, given, to, steps, cancellation);
    }

    private static SecondRun Repeat(FinishedRun archived, CheckedExport export, string protocol, string? previous, IProgress<string> steps)
    {
        DirectoryInfo temporary = Directory.CreateTempSubdirectory("rotationstudy-");
        try
        {
            string second = Path.Combine(temporary.FullName, "second");
            using (RunFolder folder = RunFolder.Open(second))
                StudyRun.Carry(export, protocol, export.QueryFiles(previous), folder, steps);
            steps.Report("Comparing both runs");
            StudyResults results = FinishedRun.Read(second, out _)!.Results;
            return new SecondRun(
                archived.Record.StudyId, archived.Results.Study.Title, archived.Record.ChainHead, archived.Results.Provenance, results.Provenance,
                RunComparer.Compare(archived.Folder, second), null, null, []);
        }
        finally
        {
            temporary.Delete(recursive: true);
        }
    }

    private static Outcome WithFresh(
        FinishedRun archived, CheckedExport export, string protocol, Given given, string to, IProgress<string> steps, CancellationToken cancellation)
    {
        if (given.Earlier is not { } earlier)
        {
            return Outcome.Failed(ExitCode.Usage,
                $"These are not the exports of the archived run: {string.Join(", ", Strangers(archived.Record, export))}.",
                "Give the exports of that run, or their archive of checked records, with --earlier, and what changed is told and taken apart.");
        }
        CheckedExport before = CheckedExport.Read(protocol, earlier, steps, cancellation, given.Withdrawn);
        if (!IsOf(archived.Record, before))
            return Outcome.Failed(ExitCode.Usage, $"{earlier} does not hold the exports of the archived run: {string.Join(", ", Strangers(archived.Record, before))}.");
        StudyResults results = StudyPipeline.Run(export.Protocol, export.Records, StudyRun.ProgramVersion, steps);
        steps.Report("Comparing the data");
        DataChanges data = DataComparison.Compare(before.Records, export.Records);
        return Tell(
            new SecondRun(
                archived.Record.StudyId, archived.Results.Study.Title, archived.Record.ChainHead, archived.Results.Provenance, results.Provenance, null, data,
                FindingComparison.Compare(before.Records.Findings, export.Records.Findings),
                ResultComparison.Compare(export.Protocol, (before.Records, archived.Results), (export.Records, results), data, steps)),
            to);
    }

    private static Outcome Tell(SecondRun run, string to)
    {
        SecondRunFiles.Write(to, run);
        ExitCode code = run.Outcome switch
        {
            "not_reproduced" => ExitCode.NotReproduced,
            "conclusion_changed" => ExitCode.ConclusionChanged,
            _ => ExitCode.Done,
        };
        JsonObject facts = new() { ["outcome"] = run.Outcome, ["sentence"] = run.Sentence, ["folder"] = to };
        string[] where = [$"Open {Path.Combine(to, SecondRunFiles.Page)}"];
        return code == ExitCode.Done
            ? new Outcome(code, [run.Sentence, .. where], [], facts)
            : new Outcome(code, where, [run.Sentence], facts);
    }

    private static bool IsOf(RunRecord record, CheckedExport export) => !Strangers(record, export).Any();

    /// <summary>Files that only one of the two has, or with other bytes.</summary>
    private static IEnumerable<string> Strangers(RunRecord record, CheckedExport export)
    {
        ImmutableHashSet<(string, string)> archived = [.. record.ExportFiles.Select(f => (f.Name, f.Sha256))];
        ImmutableHashSet<(string, string)> given = [.. export.Records.Files.Select(f => (f.Name, f.Sha256))];
        return archived.SymmetricExcept(given).Select(f => f.Item1).Distinct().Order(StringComparer.Ordinal);
    }

    /// <summary>What the second run is made from.</summary>
    /// <param name="Exports">The exports of the archived run, or fresh ones.</param>
    /// <param name="Earlier">With fresh ones, the exports of the archived run.</param>
    /// <param name="Withdrawn">Who withdrew consent; a list is kept with no run.</param>
    /// <param name="Previous">The query list that the archived run was compared with, which is not kept either.</param>
    private sealed record Given(string Exports, string? Earlier, string? Withdrawn, string? Previous);
}
