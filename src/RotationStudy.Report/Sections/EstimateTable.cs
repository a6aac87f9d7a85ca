using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Report.Sections;

/// <summary>Estimates as a table; each has its id, which leads to where it comes from.</summary>
internal static class EstimateTable
{
    internal static void Write(HtmlWriter page, string caption, ImmutableArray<EstimateRow> rows, QuestionResult question)
    {
        if (rows.IsEmpty)
            return;
        bool family = rows.Any(r => r.FamilyPValue is not null);
        ImmutableArray<IdentifiedEstimate> ids = [.. ResultIds.Of(question)];
        string[] methods = [.. rows.Select(r => r.Method).Distinct()];
        new HtmlTable(
            caption,
            [
                "Term", "Role", "Scale", HtmlColumn.Number("Estimate"), HtmlColumn.Number("95% interval"), HtmlColumn.Number("p"),
                .. family ? [HtmlColumn.Number("p within the family")] : Array.Empty<HtmlColumn>(), HtmlColumn.Number("Degrees of freedom"), new HtmlColumn("Trace", IsCode: true),
            ],
            [.. rows.Select(r => ToRow(r, family, IdCell(question, ids.FirstOrDefault(i => ReferenceEquals(i.Estimate, r))?.Id)))])
        {
            Footnotes = [$"Intervals and p values: {string.Join("; ", methods)}.{(family ? " Within the family of tests that the plan names: adjusted by Holm." : string.Empty)}"],
        }.Write(page);
    }

    private static HtmlCell IdCell(QuestionResult question, string? id)
        => id is null ? "" : new HtmlCell(id) { Anchor = "result-" + id, Link = question.Trace is null ? null : "#" + TraceSection.AnchorOf(question) };

    private static HtmlRow ToRow(EstimateRow row, bool family, HtmlCell id) => HtmlRow.Of(
    [
        row.Label, row.Role, row.Scale,
        new HtmlCell(NumberFormat.Estimate(row), row.Value),
        new HtmlCell(NumberFormat.Interval(row), row.Lower),
        new HtmlCell(NumberFormat.PValue(row.PValue), row.PValue),
        .. family ? [row.FamilyPValue is { } p ? new HtmlCell(NumberFormat.PValue(p), p) : ""] : Array.Empty<HtmlCell>(),
        row.DegreesOfFreedom is { } df ? new HtmlCell(NumberFormat.Fixed(df, 1), df) : "",
        id,
    ]);
}
