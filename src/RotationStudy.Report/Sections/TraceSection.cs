using RotationStudy.Report.Html;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Where the numbers of a question come from: every estimate of the page leads here.</summary>
internal static class TraceSection
{
    internal static string AnchorOf(QuestionResult question) => HtmlWriter.Id("trace-", question.Id);

    internal static void Write(HtmlWriter page, StudyResults results, QuestionResult question)
    {
        if (question.Trace is not { } trace)
            return;
        page.Heading(3, "Where these numbers come from", AnchorOf(question));
        new HtmlTable(
            $"Trace of the numbers of {question.Id}",
            ["What", "Value"],
            [.. ResultTrace.OfQuestion(results, question).Skip(1).Select(p => HtmlRow.Of(p.Heading, p.Heading == ResultTrace.RowsHeading ? new HtmlCell(p.Text) { Link = trace.RowsFile } : p.Text))])
        {
            Footnotes = ["The command 'rotationstudy trace' answers the same for the id of an estimate, down to the rows."],
        }.Write(page);
    }
}
