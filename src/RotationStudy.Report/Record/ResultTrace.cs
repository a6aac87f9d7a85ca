using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Report.Record;

/// <summary>Where an estimate comes from, in words: model, rows with their hash, exclusions, checks, sources, versions.</summary>
public static class ResultTrace
{
    /// <summary>Heading of the file that lists the rows.</summary>
    internal const string RowsHeading = "Rows by their ids";

    private const string TouchedHeading = "Checks with findings on what it reads";

    /// <summary>The trace of an estimate.</summary>
    /// <param name="results">The results of the run.</param>
    /// <param name="question">The question that the estimate belongs to.</param>
    /// <param name="estimate">The estimate.</param>
    public static ImmutableArray<ExplainedPoint> Of(StudyResults results, QuestionResult question, IdentifiedEstimate estimate)
    {
        EstimateRow row = estimate.Estimate;
        string interval = $"{NumberFormat.Estimate(row)}, 95% interval {NumberFormat.Interval(row)}, p {NumberFormat.PValue(row.PValue)}";
        return
        [
            new("Estimate", $"{row.Label}: {row.Scale} {interval}."),
            new("In full", $"{Full(row.Value)} ({Full(row.Lower)} to {Full(row.Upper)}), p {Full(row.PValue)}; on the scale of the model {Full(row.ModelValue)}."),
            new("Kind", estimate.Place switch { ResultIds.Main => "The planned estimate.", ResultIds.Beside => "By another planned method.", _ => $"Further analysis: {estimate.Place}." }),
            new("Interval and test", row.Method),
            .. OfQuestion(results, question),
        ];
    }

    /// <summary>The part that all estimates of a question share.</summary>
    /// <param name="results">The results of the run.</param>
    /// <param name="question">The question.</param>
    public static ImmutableArray<ExplainedPoint> OfQuestion(StudyResults results, QuestionResult question)
    {
        Provenance from = results.Provenance;
        List<ExplainedPoint> points = [new("Question", $"{question.Id} {question.Title}")];
        if (question.Model.Length > 0)
            points.Add(new ExplainedPoint("Model", question.Model));
        if (question.Trace is { } trace)
        {
            points.Add(new("Rows analysed", $"{NumberFormat.Count(trace.Rows, "row", "rows")} of {NumberFormat.Count(question.Counts.Participants, results.Study.ParticipantOne, results.Study.ParticipantMany)}; SHA-256 over ids and values {trace.RowsSha256}."));
            points.Add(new(RowsHeading, trace.RowsFile));
            points.AddRange(question.LeftOut.Select(r => new ExplainedPoint("Left out", $"{r.Reason}: {FlowWords.ReasonCounts(results.Study, r)}")));
            if (question.LeftOut.IsEmpty)
                points.Add(new("Left out", "Nobody of the population."));
            points.AddRange(trace.Checks.Select(c => new ExplainedPoint(
                TouchedHeading, $"{c.Rule} ({c.Severity}): {NumberFormat.Count(c.Findings, "finding", "findings")}{About(c.Participants, results.Study)}")));
            if (trace.Checks.IsEmpty)
                points.Add(new(TouchedHeading, "None has a finding."));
            points.Add(new("Measures read", string.Join(", ", trace.Measures)));
            points.AddRange(from.ExportFiles.Where(f => trace.ExportFiles.Contains(f.Name)).Select(f => new ExplainedPoint("Export files read", $"{f.Name}, SHA-256 {f.Sha256}")));
        }
        points.AddRange(results.Streams.Where(s => s.Use.EndsWith(" of " + question.Id, StringComparison.Ordinal)).Select(s => new ExplainedPoint(
            "Random numbers", $"Seed {from.Seed.ToString(CultureInfo.InvariantCulture)}, stream '{s.Stream}': {s.Use}")));
        points.Add(new("Made by", $"Program {from.ProgramVersion}; protocol {from.ProtocolVersion}, SHA-256 {from.ProtocolSha256}; exports SHA-256 {from.ExportsSha256}"));
        return [.. points];
    }

    /// <summary>Whom findings are about; those about a file, a column or a rater name nobody.</summary>
    private static string About(int participants, StudyFacts study)
        => participants == 0 ? string.Empty : $" about {new SmallCounts(study.SmallestPrintedCount).Words(participants, study.ParticipantOne, study.ParticipantMany)}";

    private static string Full(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
