using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The sealed plan and what was changed in it since.</summary>
internal static class DeviationsSection
{
    internal const string Anchor = "deviations";
    internal const string Title = "Deviations from the sealed plan";

    internal static void Write(HtmlWriter page, StudyResults results) => page.Section(Anchor, Title, () =>
    {
        if (results.Seal is not { } seal)
        {
            page.Element("p", $"The plan was not sealed. It states {results.Study.PlanDated} as the date on which it was fixed; nothing but that statement shows that it was fixed before the data were opened.");
            return;
        }
        page.Element("p", $"The plan was sealed on {seal.Dated}; the date was stated by those who sealed it. Hash of the seal: {seal.Sha256}.");
        if (seal.Deviations.IsEmpty)
        {
            page.Element("p", "This run followed the sealed plan in every word.");
            return;
        }
        new HtmlTable(
            "What the plan of this run says differently",
            ["File", "Where", "Sealed plan", "Plan of this run"],
            [.. seal.Deviations.Select(d => HtmlRow.Of(d.File, d.Where.Length > 0 ? d.Where : "(the whole file)", d.Sealed ?? "(nothing)", d.Now ?? "(nothing)"))])
        {
            Footnotes = ["Comments, blanks and the order of keys are no deviations."],
        }.Write(page);
    });
}
