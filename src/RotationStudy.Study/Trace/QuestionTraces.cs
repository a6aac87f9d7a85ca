using System.Collections.Immutable;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Trace;

/// <summary>Where the numbers of a question come from: its rows by their ids, their hash, its sources, and the checks that touched them.</summary>
internal sealed record QuestionTraces(QuestionTrace Trace, QuestionRows Rows)
{
    /// <summary>Folder of the files that list rows.</summary>
    private const string Folder = "trace/";

    internal static QuestionTraces Of(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures, QuestionDefinition question)
    {
        (ImmutableArray<TracedRow> rows, string sha256) = measures.Readings.TryGetValue(question.Id, out ReadingSet? readings)
            ? OfReadings(measures, readings)
            : OfTable(TableBuilder.Build(measures, question.Rows, AnalysisRunner.NeededMeasures(question), question.Keep));
        MeasureSources sources = MeasureSources.Of(protocol, question);
        HashSet<string> files = FilesOf(protocol, sources);
        QuestionTrace trace = new(
            rows.Count(r => r.LeftOut is null), rows.Count(r => r.LeftOut is not null), sha256,
            $"{Folder}{PlainName(question.Id)}.csv", sources.Measures, sources.Tables,
            [.. records.Files.Select(f => f.Name).Where(f => files.Contains(WithoutEnding(f)))], Touching(records, sources.Columns, files, rows));
        return new QuestionTraces(trace, new QuestionRows(
            question.Id, rows.Any(r => r.Side.Length > 0), rows.Any(r => r.Occasion.Length > 0), rows));
    }

    private static (ImmutableArray<TracedRow> Rows, string Sha256) OfTable(AnalysisTable table)
    {
        IEnumerable<(RowKey Key, string? Reason)> all = table.Keys.Select(k => (k, (string?)null)).Concat(table.LeftOutRows.Select(r => (r.Key, (string?)r.Reason)));
        TracedRow[] rows = [.. all.OrderBy(r => r.Key.Participant).ThenBy(r => r.Key.Side).ThenBy(r => r.Key.Occasion).Select(r => Named(table.StudyKeys, r.Key, r.Reason))];
        using ContentHash hash = new();
        hash.Add(rows.Where(r => r.LeftOut is null).SelectMany(r => new[] { r.Participant, r.Side, r.Occasion }).ToArray());
        foreach (TableColumn column in table.Columns)
            hash.Add(column.Measure.Definition.Id).Add(column.Values);
        return ([.. rows], hash.Finish());
    }

    private static (ImmutableArray<TracedRow> Rows, string Sha256) OfReadings(DerivedMeasures measures, ReadingSet readings)
    {
        TracedRow[] rows = [.. readings.Rows.Select(r => (r.Participant, r.Side, r.Session)).Distinct().Select(r => new TracedRow(
            measures.Keys.Participants[r.Participant],
            r.Side < 0 ? string.Empty : measures.Keys.Sides[r.Side],
            readings.Sessions[r.Session], null))];
        using ContentHash hash = new();
        hash.Add(rows.SelectMany(r => new[] { r.Participant, r.Side, r.Occasion }).ToArray());
        hash.Add([.. readings.Rows.Select(r => readings.Raters[r.Rater])]).Add([.. readings.Rows.Select(r => r.Value)]);
        return ([.. rows], hash.Finish());
    }

    private static TracedRow Named(StudyKeys keys, RowKey key, string? reason) => new(
        keys.Participants[key.Participant],
        key.Side < 0 ? string.Empty : keys.Sides[key.Side],
        key.Occasion < 0 ? string.Empty : keys.Occasions[key.Occasion],
        reason);

    private static HashSet<string> FilesOf(StudyProtocol protocol, MeasureSources sources) =>
    [
        .. protocol.Tables.Where(t => sources.Tables.Contains(t.Name)).Select(t => WithoutEnding(t.File)),
        .. protocol.Mappings.SelectMany(m => m.Tables.Where(t => sources.Tables.Contains(t.Table)).Select(t => WithoutEnding($"{m.Site}/{t.File}"))),
    ];

    private static ImmutableArray<TouchedCheck> Touching(
        CheckedRecords records, ImmutableHashSet<string> columns, HashSet<string> files, ImmutableArray<TracedRow> rows)
    {
        HashSet<string> people = [.. rows.Select(r => r.Participant)];
        return
        [
            .. records.Findings
                .Where(f => (f.Participant is null || people.Contains(f.Participant))
                    && files.Contains(WithoutEnding(f.File)) && (f.Column is null || columns.Contains(f.Column)))
                .GroupBy(f => (f.Severity, f.Rule)).OrderBy(g => g.Key.Severity).ThenBy(g => g.Key.Rule, StringComparer.Ordinal)
                .Select(g => new TouchedCheck(g.Key.Rule, QueryList.Words(g.Key.Severity), g.Count(), g.Select(f => f.Participant).OfType<string>().Distinct().Count())),
        ];
    }

    /// <summary>Files are told apart without their ending: a table may come as CSV this time and as a workbook the next.</summary>
    private static string WithoutEnding(string file) => file[..^Path.GetExtension(file).Length];

    private static string PlainName(string id) => string.Concat(id.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' ? c : '-'));
}
