using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Every check of the study, whether it found anything or not: what was looked for is part of the evidence.</summary>
internal static class ChecksSection
{
    internal static void Write(HtmlWriter page, StudyResults results)
    {
        ImmutableArray<CheckFacts> checks = results.DataQuality.Checks;
        if (checks.IsEmpty)
            return;
        page.Open("details").Element("summary", $"All checks of this study ({NumberFormat.Count(checks.Length)})");
        new HtmlTable(
            "All checks, those of every study first",
            ["Check", "Kind", "Table", "What a finding does", "What is looked at, or what the site reads", "Source", HtmlColumn.Number("Findings")],
            [.. checks.Select(c => HtmlRow.Of(c.Id, c.Kind, c.Table, c.Does, c.Says, c.Source, c.Findings))]).Write(page);
        page.Close("details");
    }
}
