using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The cautions, at the top as a box and again at the end.</summary>
internal static class CautionsSection
{
    internal static void WriteBox(HtmlWriter page, StudyFacts study)
    {
        if (study.Cautions.IsEmpty)
            return;
        page.Open("div", ("class", "box care"), ("role", "note"), ("aria-label", "Cautions"));
        page.List(study.Cautions);
        page.Close("div");
    }

    internal static void Write(HtmlWriter page, StudyFacts study) => page.Section("cautions", "Cautions", () =>
    {
        WriteBox(page, study);
        if (study.SmallestPrintedCount > 1)
        {
            page.Element("p",
                $"Counts of people under {study.SmallestPrintedCount} are printed as \u201cfewer than {study.SmallestPrintedCount}\u201d or \u201c<{study.SmallestPrintedCount}\u201d. "
                + "Totals are printed as they are, so a hidden count may follow from a sum, and results.json holds all of them: look before you publish.");
        }
    });
}
