using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Json.Nodes;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Cli.Commands;

/// <summary>Traces an estimate of a finished run back to its model, rows, exclusions, checks and sources.</summary>
internal static class TraceCommand
{
    internal static (Command Command, Func<ParseResult, Session, Outcome> Act) Define()
    {
        Argument<string> run = new("run") { Description = "Folder of a finished run" };
        Argument<string?> result = new("result") { Description = "Id of an estimate, as the report and results.csv show it, or of a question; without one, all are listed", Arity = ArgumentArity.ZeroOrOne };
        Option<bool> rows = new("--rows") { Description = "Print the rows too, by their ids" };
        Command command = new("trace", "Trace an estimate back to model, rows, exclusions, checks, sources and version") { run, result, rows };
        return (command, (parsed, _) => FinishedRun.Read(parsed.GetRequiredValue(run), out Outcome? refused) is { } finished
            ? Act(finished, parsed.GetValue(result), parsed.GetValue(rows))
            : refused!);
    }

    private static Outcome Act(FinishedRun run, string? id, bool rows)
    {
        ImmutableArray<(QuestionResult Question, IdentifiedEstimate Estimate)> all =
            [.. run.Results.Questions.SelectMany(q => ResultIds.Of(q).Select(e => (q, e)))];
        if (id is null)
            return List(all);
        if (run.Results.Questions.FirstOrDefault(q => q.Id == id) is { } whole)
            return Trace(run, id, whole, ResultTrace.OfQuestion(run.Results, whole), rows);
        foreach ((QuestionResult question, IdentifiedEstimate estimate) in all)
        {
            if (estimate.Id == id)
                return Trace(run, id, question, ResultTrace.Of(run.Results, question, estimate), rows);
        }
        string[] near = [.. all.Select(a => a.Estimate.Id).Where(i => i.StartsWith(id.Split('.')[0] + ".", StringComparison.Ordinal))];
        return Outcome.Failed(ExitCode.Usage, $"No estimate has the id '{id}'. {(near.Length > 0 ? $"Ids of that question are {string.Join(", ", near)}." : $"rotationstudy trace {run.Folder} lists all.")}");
    }

    private static Outcome List(ImmutableArray<(QuestionResult Question, IdentifiedEstimate Estimate)> all)
    {
        int width = all.Select(a => a.Estimate.Id.Length).DefaultIfEmpty(0).Max();
        return new Outcome(
            ExitCode.Done,
            [.. all.Select(a => $"{a.Estimate.Id.PadRight(width)}  {a.Estimate.Estimate.Label}")], [],
            new JsonObject { ["results"] = new JsonArray([.. all.Select(a => new JsonObject { ["id"] = a.Estimate.Id, ["label"] = a.Estimate.Estimate.Label })]) });
    }

    private static Outcome Trace(FinishedRun run, string id, QuestionResult question, ImmutableArray<ExplainedPoint> told, bool rows)
    {
        ImmutableArray<ExplainedPoint> points = [.. told, new("Head of the record", run.Record.ChainHead)];
        string[] lines = rows && question.Trace is { } trace ? File.ReadAllLines(Path.Combine(run.Folder, trace.RowsFile)) : [];
        return new Outcome(
            ExitCode.Done,
            [id, .. PointLines.Of(points), .. lines], [],
            new JsonObject
            {
                ["id"] = id,
                ["question"] = question.Id,
                ["points"] = PointLines.Json(points),
                ["rows_analysed"] = question.Trace?.Rows,
                ["rows_sha256"] = question.Trace?.RowsSha256,
                ["rows"] = new JsonArray([.. lines.Skip(1).Select(l => JsonValue.Create(l))]),
            });
    }
}
