using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The appendix that explains every measure, in the words of the command that explains one.</summary>
internal static class MeasureAppendix
{
    internal const string Title = "Appendix: measures explained";

    internal static bool Has(StudyResults results) => results.Measures.Any(m => !m.Explanation.IsEmpty);

    internal static void Write(HtmlWriter page, StudyResults results)
    {
        if (!Has(results))
            return;
        page.Section("explained", Title, () =>
        {
            foreach (MeasureFacts measure in results.Measures.Where(m => !m.Explanation.IsEmpty))
            {
                page.Heading(3, measure.Label, HtmlWriter.Id("measure-", measure.Id));
                page.Open("dl");
                string before = string.Empty;
                foreach (ExplainedPoint point in measure.Explanation)
                {
                    if (point.Heading != before)
                        page.Element("dt", point.Heading);
                    page.Element("dd", point.Text);
                    before = point.Heading;
                }
                page.Close("dl");
            }
        });
    }
}
