using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Definitions of the measures, the methods in words, and their sources.</summary>
internal static class MethodsSection
{
    internal static void WriteMeasures(HtmlWriter page, StudyResults results) => page.Section("measures", "Definitions of the measures", () =>
        new HtmlTable(
            "Measures as the protocol defines them",
            ["Measure", "Unit", "Definition", "Source", HtmlColumn.Number("With a value"), HtmlColumn.Number("Without")],
            [.. results.Measures.Select(m => HtmlRow.Of(m.Label, m.Unit, m.Definition, m.Source, m.Present, m.Absent))]).Write(page));

    internal static void WriteMethods(HtmlWriter page, StudyResults results) => page.Section("methods", "Methods and sources", () =>
    {
        page.Open("dl");
        foreach (QuestionResult question in results.Questions.Where(q => q.Model.Length > 0))
            page.Element("dt", $"{question.Id} {question.Title}").Element("dd", question.Model);
        page.Close("dl");
        string[] sources = [.. results.Questions.SelectMany(q => q.Citations).Distinct()];
        if (sources.Length == 0)
            return;
        page.Heading(3, "Sources");
        page.Open("ol");
        foreach (string source in sources)
            page.Element("li", source);
        page.Close("ol");
    });
}
