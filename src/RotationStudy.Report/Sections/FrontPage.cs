using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Title, cautions, what needs the clinical team, contents, and the answers: what a surgeon reads in five minutes.</summary>
internal static class FrontPage
{
    internal static void WriteHeader(HtmlWriter page, StudyResults results)
    {
        StudyFacts study = results.Study;
        page.Open("header");
        page.Heading(1, study.Title);
        page.Element("p", study.Purpose, ("class", "lead"));
        page.Element("p", $"{study.Design.TrimEnd('.')}. {study.Source}", ("class", "facts"));
        page.Element("p", Origin(results), ("class", "facts"));
        WriteDeviations(page, results);
        CautionsSection.WriteBox(page, study);
        int hips = results.DataQuality.HipFirst.Length;
        if (hips > 0)
        {
            page.Open("div", ("class", "box stop"), ("role", "note"));
            page.Open("p").Element("strong", "For the clinical team first: ")
                .Text($"{NumberFormat.Count(hips, "examined side has", "examined sides have")} a hip that is painful, restricted or was not examined. ")
                .Link("#hip-first", "See the list").Text(".").Close("p").Close("div");
        }
        page.Close("header");
    }

    internal static void WriteContents(HtmlWriter page, IEnumerable<(string Id, string Title)> sections)
    {
        page.Open("nav", ("aria-label", "Contents")).Open("ul");
        foreach ((string id, string title) in sections)
            page.Open("li").Link("#" + id, title).Close("li");
        page.Close("ul").Close("nav");
    }

    internal static void WriteAnswers(HtmlWriter page, StudyResults results) => page.Section("answers", "Questions and answers", () =>
    {
        page.Open("ol", ("class", "answers"));
        foreach (QuestionResult question in results.Questions)
            WriteAnswer(page, results.Study, question);
        page.Close("ol");
        page.Element("p", "Intervals are 95% confidence intervals. An interval that holds the value of no association does not show that there is none.", ("class", "note"));
    });

    private static void WriteAnswer(HtmlWriter page, StudyFacts study, QuestionResult question)
    {
        page.Open("li");
        page.Heading(3, $"{question.Id} {question.Title}");
        page.Element("p", question.Asks, ("class", "asks"));
        page.Element("p", question.Answer, ("class", "answer"));
        page.Open("p", ("class", "firm")).Element("strong", "How firm: ").Text(Firmness.Words(question)).Close("p");
        page.Open("p", ("class", "facts")).Text(FigureWords.People(study, question.Counts) + ". ")
            .Link("#" + QuestionSection.AnchorOf(question), $"Details of {question.Id}").Close("p");
        page.Close("li");
    }

    private static void WriteDeviations(HtmlWriter page, StudyResults results)
    {
        if (results.Seal is not { Deviations.IsEmpty: false } seal)
            return;
        page.Open("div", ("class", "box care"), ("role", "note"));
        page.Open("p").Text($"The plan was sealed on {seal.Dated}; this run departs from it in {NumberFormat.Count(seal.Deviations.Length, "place", "places")}. ")
            .Link("#" + DeviationsSection.Anchor, "See the list").Text(".").Close("p").Close("div");
    }

    private static string Origin(StudyResults results)
    {
        string sites = results.Study.Sites.IsEmpty ? "" : $"Sites: {string.Join(", ", results.Study.Sites)}. ";
        return $"{sites}Plan fixed {results.Study.PlanDated}; protocol {results.Provenance.ProtocolVersion}; program {results.Provenance.ProgramVersion}.";
    }
}
