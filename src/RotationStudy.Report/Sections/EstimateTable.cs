using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Estimates as a table.</summary>
internal static class EstimateTable
{
    internal static void Write(HtmlWriter page, string caption, ImmutableArray<EstimateRow> rows)
    {
        if (rows.IsEmpty)
            return;
        string[] methods = [.. rows.Select(r => r.Method).Distinct()];
        new HtmlTable(
            caption,
            ["Term", "Role", "Scale", HtmlColumn.Number("Estimate"), HtmlColumn.Number("95% interval"), HtmlColumn.Number("p"), HtmlColumn.Number("Degrees of freedom")],
            [.. rows.Select(ToRow)])
        {
            Footnotes = [$"Intervals and p values: {string.Join("; ", methods)}."],
        }.Write(page);
    }

    private static HtmlRow ToRow(EstimateRow row) => HtmlRow.Of(
        row.Label, row.Role, row.Scale,
        new HtmlCell(NumberFormat.Estimate(row), row.Value),
        new HtmlCell(NumberFormat.Interval(row), row.Lower),
        new HtmlCell(NumberFormat.PValue(row.PValue), row.PValue),
        row.DegreesOfFreedom is { } df ? new HtmlCell(NumberFormat.Fixed(df, 1), df) : "");
}
