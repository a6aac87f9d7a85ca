using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>How often the conclusion of a question holds over the choices that could have been made otherwise.</summary>
internal static class ChoicesSection
{
    internal static void Write(HtmlWriter page, ChoiceGarden garden)
    {
        page.Section(HtmlWriter.Id("choices-", garden.Question), $"{garden.Question}: if other choices had been made", () =>
        {
            page.Element("p", $"{garden.Label}. {garden.Sentence}", ("class", "answer"));
            page.Element("p", "The combinations share their data: how many agree is a description, not a test. The first option of each decision is the planned one.");
            page.List(garden.Influence);
            new HtmlTable(
                $"Decisions and options of {garden.Question}",
                ["Decision", "Option", "Why it could have been chosen"],
                [.. garden.Decisions.SelectMany(d => d.Options.Select((o, i) => HtmlRow.Of(d.Name, i == 0 ? o.Label + " (planned)" : o.Label, o.Reason)))]).Write(page);
        });
    }
}
