using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Intraclass correlations with their intervals, a heading per question and scope, a line per group and side.</summary>
internal static class ReliabilityForestFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult[] questions = [.. results.Questions.Where(q => request.Questions.Contains(q.Id) && q.Agreement is { Reliability.IsEmpty: false })];
        if (questions.Length == 0)
            return FigureDrawing.Without(request, style, "No intraclass correlation could be estimated.");
        ImmutableArray<QuestionResult> parts = [.. questions.SelectMany(q => q.Agreement!.Reliability.GroupBy(l => l.Scope).Select(scope => q with
        {
            Title = $"{q.Title}, {scope.Key}", Answered = true, Estimates = [.. scope.Select(Row)],
        }))];
        double low = Math.Min(0, parts.SelectMany(p => p.Estimates).Where(e => double.IsFinite(e.Lower)).Min(e => e.Lower));
        AxisScale axis = request.Across is [double from, double to] ? AxisScale.Between(from, to, 5) : AxisScale.Between(Math.Max(-1, Math.Floor(low * 5) / 5), 1, 5);
        FigurePage page = EstimateForestFigure.Lay(request, style, parts, new ForestScale(false, null, axis, "Intraclass correlation, single reading (1: no error)"), "Reading and group");
        return new FigureDrawing(page, Caption(results.Study, questions), ForestWords.AlternativeText(request, parts), Data(questions))
        {
            Method = string.Join(" ", questions.Select(q => q.Model).Distinct()),
        };
    }

    private static EstimateRow Row(ReliabilityLine l) => new(
        l.Group, $"{l.Group}{(l.Side.Length > 0 ? ", " + l.Side : "")} (n = {NumberFormat.Count(l.Subjects)})", "exposure", "ICC", null,
        l.Agreement, l.AgreementLower, l.AgreementUpper, 1, l.Agreement, null, null, "", 0);

    private static string Caption(StudyFacts study, QuestionResult[] questions)
        => $"{string.Join(" ", questions.Select(q => $"{q.Id}: {FigureWords.People(study, q.Counts)}."))} n: subjects with all readings. Squares: ICC for absolute agreement of a single reading; lines: 95% intervals.";

    private static FlatTable Data(QuestionResult[] questions) => new(
        ["question", "scope", "group", "side", "subjects", "ratings", "icc_agreement", "lower_95", "upper_95", "icc_consistency", "consistency_lower_95", "consistency_upper_95", "error", "detectable_change"],
        [.. questions.SelectMany(q => q.Agreement!.Reliability.Select(l => FlatRow.Of(
            q.Id, l.Scope, l.Group, l.Side, l.Subjects, l.Ratings, l.Agreement, l.AgreementLower, l.AgreementUpper,
            l.Consistency, l.ConsistencyLower, l.ConsistencyUpper, l.Error, l.DetectableChange)))]);
}
