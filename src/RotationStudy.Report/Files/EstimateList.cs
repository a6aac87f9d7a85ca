using System.Collections.Immutable;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Report.Files;

/// <summary>One estimate with the question it belongs to: a row of results.csv and results.parquet.</summary>
/// <param name="Question">The question.</param>
/// <param name="Place">
/// main, beside (the same exposure by another planned method), sensitivity, negative_control, missing_data, or none for a question without an estimate.
/// </param>
/// <param name="Estimate">The estimate; null for a question without one.</param>
/// <param name="Id">Id of the estimate; empty for a question without one.</param>
/// <param name="Analysis">Name of the further analysis; empty for main and beside.</param>
/// <param name="Counts">What it rests on.</param>
internal sealed record ListedEstimate(QuestionResult Question, string Place, EstimateRow? Estimate, string Id, string Analysis, AnalysisCounts Counts);

/// <summary>All estimates of all questions in the order of the plan. A question without an estimate keeps a row, so that none drops out of sight.</summary>
internal static class EstimateList
{
    internal static ImmutableArray<ListedEstimate> Of(StudyResults results)
        => [.. results.Questions.SelectMany(OfQuestion)];

    internal static FlatTable ToTable(ImmutableArray<ListedEstimate> list) => new(
        [
            "question_id", "question_title", "question_kind", "answered", "place", "role", "term", "label", "scale", "unit",
            "value", "lower_95", "upper_95", "p_value", "model_value", "model_standard_error", "degrees_of_freedom", "no_effect",
            "method", "participants", "units", "rows", "events", "time_at_risk", "time_unit", "result_id", "family_p_value", "analysis",
        ],
        [.. list.Select(ToRow)]);

    private static IEnumerable<ListedEstimate> OfQuestion(QuestionResult question)
    {
        if (question.Estimates.IsEmpty && question.Beside.IsEmpty)
            return [new ListedEstimate(question, "none", null, string.Empty, string.Empty, question.Counts)];
        ImmutableArray<IdentifiedEstimate> ids = [.. ResultIds.Of(question)];
        QuestionSupplement supplement = question.Supplement;
        return question.Estimates.Select(e => Listed(ResultIds.Main, e, string.Empty, question.Counts))
            .Concat(question.Beside.Select(e => Listed(ResultIds.Beside, e, string.Empty, question.Counts)))
            .Concat(supplement.Others.SelectMany(o => o.Estimates.Select(e => Listed(o.Role, e, o.Name, o.Counts))))
            .Concat(supplement.MissingData is { } missing ? Imputed(missing) : []);

        ListedEstimate Listed(string place, EstimateRow row, string analysis, AnalysisCounts counts)
            => new(question, place, row, ids.First(i => ReferenceEquals(i.Estimate, row)).Id, analysis, counts);

        // Complete cases are the main estimates and are not listed again.
        IEnumerable<ListedEstimate> Imputed(MissingDataComparison missing)
            => missing.Approaches.Where(a => a.Shift is not null).SelectMany(a => a.Estimates.Select(e => Listed(
                "missing_data", e, a.Name,
                question.Counts with { Rows = missing.Rows, Participants = missing.Participants, Units = question.Counts.Units > 0 ? missing.Rows : 0 })));
    }

    private static ImmutableArray<FlatCell> ToRow(ListedEstimate listed)
    {
        QuestionResult question = listed.Question;
        EstimateRow? e = listed.Estimate;
        AnalysisCounts counts = listed.Counts;
        return
        [
            question.Id, question.Title, question.Kind, question.Answered ? "yes" : "no", listed.Place,
            e?.Role, e?.Term, e?.Label, e?.Scale, e?.Unit,
            e?.Value, e?.Lower, e?.Upper, e?.PValue, e?.ModelValue, e?.ModelStandardError, e?.DegreesOfFreedom, e?.NoEffect,
            e?.Method, counts.Participants, counts.Units, counts.Rows, counts.Events, counts.TimeAtRisk, counts.TimeUnit, listed.Id, e?.FamilyPValue, listed.Analysis,
        ];
    }
}
