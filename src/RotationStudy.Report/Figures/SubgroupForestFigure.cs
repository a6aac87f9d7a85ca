using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>One exposure's estimate in everybody and within each group of the subgroups that the plan names.</summary>
/// <remarks>The p value beside a heading asks whether the groups share one estimate; an interval of its own says nothing on that.</remarks>
internal static class SubgroupForestFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        ImmutableArray<QuestionResult> parts = [.. request.Questions.SelectMany(id => results.Questions.Where(q => q.Id == id)).SelectMany(q => Parts(results.Study, request, q))];
        if (parts.All(p => p.Estimates.IsEmpty))
            return FigureDrawing.Without(request, style, "No subgroup has an estimate to draw.");
        ForestScale scale = ForestScale.Of(parts, request.Across);
        FigurePage page = EstimateForestFigure.Lay(request, style, parts, scale, "Subgroup");
        ImmutableArray<QuestionResult> questions = [.. results.Questions.Where(q => request.Questions.Contains(q.Id))];
        return new FigureDrawing(page, Caption(results.Study, questions, scale), ForestWords.AlternativeText(request, parts), Data(questions, request))
        {
            Method = string.Join(" ", questions.SelectMany(q => q.Subgroups.Take(1)).Select(s => s.Method).Distinct()),
        };
    }

    /// <summary>A heading for everybody, then one for each subgroup measure, as questions of a forest.</summary>
    private static IEnumerable<QuestionResult> Parts(StudyFacts study, FigureRequest request, QuestionResult question)
    {
        EstimateRow[] all = [.. question.Estimates.Where(e => Wanted(e, request, question))];
        yield return question with { Title = all.Length == 0 ? question.Title : all[0].Label, Estimates = [.. all.Select(e => e with { Label = "everybody" })] };
        foreach (SubgroupEstimates by in question.Subgroups)
        {
            double? p = Test(by, request, question);
            yield return question with
            {
                Id = "",
                Title = by.Label + (p is { } value ? $" (the same in all: {NumberFormat.PClause(value)})" : ""),
                Answered = true,
                Estimates = [.. by.Groups.SelectMany(g => g.Estimates.Where(e => Wanted(e, request, question)).Select(e => e with { Label = $"{g.Group} ({Size(study, g.Counts)})" }))],
            };
        }
    }

    private static string Size(StudyFacts study, AnalysisCounts counts)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        return $"n = {small.Text(counts.Units > 0 ? counts.Units : counts.Participants)}" + (counts.Events > 0 ? $", {NumberFormat.Count(counts.Events, "event", "events")}" : "");
    }

    private static string? Exposure(FigureRequest request, QuestionResult question)
        => request.Exposure ?? question.Estimates.FirstOrDefault(e => e.Role == "exposure")?.Term;

    private static bool Wanted(EstimateRow row, FigureRequest request, QuestionResult question)
        => row.Role == "exposure" && Exposure(request, question) is { } id && (row.Term == id || row.Term.StartsWith(id + ":", StringComparison.Ordinal));

    private static double? Test(SubgroupEstimates by, FigureRequest request, QuestionResult question)
    {
        string[] exposures = [.. question.Estimates.Where(e => e.Role == "exposure").Select(e => e.Term.Split(':')[0]).Distinct()];
        int at = Array.IndexOf(exposures, Exposure(request, question)?.Split(':')[0]);
        return at >= 0 && at < by.PValues.Length ? by.PValues[at] : null;
    }

    private static string Caption(StudyFacts study, ImmutableArray<QuestionResult> questions, ForestScale scale)
    {
        string without = string.Join(" ", questions.SelectMany(q => q.Subgroups).SelectMany(s => s.Groups.Where(g => g.WhyNone is not null).Select(g => $"No estimate for {g.Group}: {g.WhyNone}.")));
        string people = string.Join(" ", questions.Select(q => FigureWords.PeopleSentence(study, q.Counts)));
        return $"{people} {ForestWords.Marks(scale)} {without}".TrimEnd();
    }

    private static FlatTable Data(ImmutableArray<QuestionResult> questions, FigureRequest request) => new(
        ["question", "subgroup", "group", "exposure", "scale", "estimate", "lower_95", "upper_95", "p_value_one_estimate_for_all", "participants", "rows", "why_none"],
        [
            .. questions.SelectMany(q => q.Estimates.Where(e => Wanted(e, request, q)).Select(e =>
                FlatRow.Of(q.Id, "everybody", "", e.Label, e.Scale, e.Value, e.Lower, e.Upper, "", q.Counts.Participants, q.Counts.Rows, ""))),
            .. questions.SelectMany(q => q.Subgroups.SelectMany(s => s.Groups.SelectMany(g => g.Estimates.IsEmpty
                ? [FlatRow.Of(q.Id, s.Label, g.Group, "", "", "", "", "", "", "", "", g.WhyNone)]
                : g.Estimates.Where(e => Wanted(e, request, q)).Select(e =>
                    FlatRow.Of(q.Id, s.Label, g.Group, e.Label, e.Scale, e.Value, e.Lower, e.Upper, Test(s, request, q), g.Counts.Participants, g.Counts.Rows, ""))))),
        ]);
}
