using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Files;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>How follow-up ended, which values are missing where, and which go missing together.</summary>
internal static class MissingSection
{
    internal const string Anchor = "missing", Title = "Follow-up and missing values";

    internal static void Write(HtmlWriter page, StudyResults results, ImmutableArray<Figure> figures) => page.Section(Anchor, Title, () =>
    {
        if (results.FollowUp is { } followUp)
        {
            page.Element("p", followUp.Sentence, ("class", "answer"));
            page.List(followUp.Ends.Select(e => $"{e.Reason}: {FlowWords.ReasonCounts(results.Study, e)}"));
        }
        if (results.Missing.Map.IsEmpty)
            return;
        new HtmlTable(
            "Values missing, by measure and site",
            ["Measure", HtmlColumn.Number("Rows"), HtmlColumn.Number("Missing"), .. results.Missing.Groups.Select(HtmlColumn.Number), "Why"],
            [.. results.Missing.Map.Select(l => Line(results.Study, l))])
        { Footnotes = ["Rows are those of the measure's own level. Shares are of the rows of a site."] }.Write(page);
        foreach (Figure figure in figures)
            FigureSection.Write(page, figure);
        foreach (MissingPatterns patterns in results.Missing.Patterns.Where(p => !p.Labels.IsEmpty))
            WritePatterns(page, patterns);
    });

    /// <summary>The map as a flat table.</summary>
    internal static FlatTable Map(StudyResults results) => new(
        ["measure", "label", "rows", "missing", .. results.Missing.Groups],
        [.. results.Missing.Map.Select(l => System.Collections.Immutable.ImmutableArray.CreateRange<FlatCell>(
            [l.Measure, l.Label, l.Rows, l.Missing, .. l.ByGroup.Select(s => (FlatCell)s)]))]);

    /// <summary>All patterns as a flat table.</summary>
    internal static FlatTable Patterns(StudyResults results) => new(
        ["question", "missing_together", "rows"],
        [.. results.Missing.Patterns.SelectMany(p => p.Rows
            .Select(r => System.Collections.Immutable.ImmutableArray.CreateRange<FlatCell>([p.Question, Words(p, r), r.Rows]))
            .Concat(p.OtherRows > 0 ? [[p.Question, "rarer patterns", p.OtherRows]] : []))]);

    private static HtmlRow Line(StudyFacts study, MissingLine line) => new(
    [
        line.Label, line.Rows, line.Missing,
        .. line.ByGroup.Select(s => s is { } share ? new HtmlCell(NumberFormat.Percent(share), share) : new HtmlCell("–")),
        string.Join("; ", line.Reasons.Select(r => $"{r.Reason}: {FlowWords.ReasonCounts(study, r)}")),
    ]);

    private static void WritePatterns(HtmlWriter page, MissingPatterns patterns) => new HtmlTable(
        $"What is missing together, {patterns.Question}",
        ["Missing", HtmlColumn.Number("Rows")],
        [
            .. patterns.Rows.Select(r => HtmlRow.Of(Words(patterns, r), r.Rows)),
            .. patterns.OtherRows > 0 ? [HtmlRow.Of("rarer patterns", patterns.OtherRows)] : Array.Empty<HtmlRow>(),
        ]).Write(page);

    private static string Words(MissingPatterns patterns, MissingPattern row)
        => row.Missing.Contains(true) ? string.Join(" + ", patterns.Labels.Where((_, i) => row.Missing[i])) : "nothing";
}
