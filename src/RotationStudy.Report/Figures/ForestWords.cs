using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Caption, alternative text and data of a forest.</summary>
internal static class ForestWords
{
    internal static string Caption(ForestScale scale, StudyFacts study, ImmutableArray<QuestionResult> questions)
        => string.Join(" ", questions.Where(q => q.Counts.Participants > 0).Select(q => $"{q.Id}: {FigureWords.People(study, q.Counts)}.")) + " " + Marks(scale);

    /// <summary>What marks and lines mean.</summary>
    internal static string Marks(ForestScale scale)
        => $"Squares: estimates; lines: 95% intervals; an arrow: the interval goes on. The dashed line marks no association ({(scale.IsRatio ? "1" : "0")}). "
            + "Estimates of another kind are given as numbers only.";

    internal static string Method(ImmutableArray<QuestionResult> questions)
        => string.Join(" ", questions.Where(q => q.Model.Length > 0).Select(q => $"{q.Id}: {q.Model}"));

    internal static string AlternativeText(FigureRequest request, ImmutableArray<QuestionResult> questions)
    {
        IEnumerable<string> parts = questions.Select(q =>
        {
            ImmutableArray<EstimateRow> rows = ForestRows.Exposures(q);
            string estimates = rows.IsEmpty
                ? "no estimate"
                : string.Join("; ", rows.Select(r => $"{r.Label}, {r.Scale} {NumberFormat.Estimate(r)}, 95% interval {NumberFormat.Interval(r)}"));
            return $"{q.Id} {q.Title}: {estimates}.".TrimStart();
        });
        return $"{request.Title}. Estimates with 95% intervals. {string.Join(" ", parts)}";
    }

    internal static FlatTable Data(ImmutableArray<QuestionResult> questions) => new(
        ["question", "title", "exposure", "scale", "unit", "estimate", "lower_95", "upper_95", "p_value"],
        [
            .. questions.SelectMany(q => ForestRows.Exposures(q) is { IsEmpty: false } rows
                ? rows.Select(r => ImmutableArray.Create<FlatCell>(q.Id, q.Title, r.Label, r.Scale, r.Unit, r.Value, r.Lower, r.Upper, r.PValue))
                : [ImmutableArray.Create<FlatCell>(q.Id, q.Title, "no estimate", "", "", "", "", "", "")]),
        ]);
}
