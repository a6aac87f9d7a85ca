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
        ImmutableArray<IdentifiedEstimate> ids = [.. ResultIds.Of(question)];
        string[] methods = [.. rows.Select(r => r.Method).Distinct()];
        new HtmlTable(
            caption,
            ["Term", "Role", "Scale", HtmlColumn.Number("Estimate"), HtmlColumn.Number("95% interval"), HtmlColumn.Number("p"), HtmlColumn.Number("Degrees of freedom"), new HtmlColumn("Trace", IsCode: true)],
            [.. rows.Select(r => ToRow(r, IdCell(question, ids.FirstOrDefault(i => ReferenceEquals(i.Estimate, r))?.Id)))])
        {
            Footnotes = [$"Intervals and p values: {string.Join("; ", methods)}."],
        }.Write(page);
    }

    private static HtmlCell IdCell(QuestionResult question, string? id)
        => id is null ? "" : new HtmlCell(id) { Anchor = "result-" + id, Link = question.Trace is null ? null : "#" + TraceSection.AnchorOf(question) };

    private static HtmlRow ToRow(EstimateRow row, HtmlCell id) => HtmlRow.Of(
        row.Label, row.Role, row.Scale,
        new HtmlCell(NumberFormat.Estimate(row), row.Value),
        new HtmlCell(NumberFormat.Interval(row), row.Lower),
        new HtmlCell(NumberFormat.PValue(row.PValue), row.PValue),
        row.DegreesOfFreedom is { } df ? new HtmlCell(NumberFormat.Fixed(df, 1), df) : "",
        id);
}
