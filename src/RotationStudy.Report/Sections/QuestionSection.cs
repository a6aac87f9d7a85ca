using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>One question in full: answer, what it rests on, model, estimates, checks, tables and figures.</summary>
internal static class QuestionSection
{
    internal static string AnchorOf(QuestionResult question) => HtmlWriter.Id("question-", question.Id);

    internal static void Write(HtmlWriter page, StudyResults results, QuestionResult question, ImmutableArray<Figure> figures)
    {
        StudyFacts study = results.Study;
        page.Open("div", ("class", "question"));
        page.Section(AnchorOf(question), $"{question.Id} {question.Title}", () =>
        {
            page.Element("p", question.Asks, ("class", "asks"));
            page.Open("div", ("class", question.Answered ? "box" : "box care"));
            page.Element("p", question.Answer, ("class", "answer"));
            page.Element("p", Firmness.Words(question));
            page.Close("div");
            page.List(question.Warnings, "box care");
            page.Element("p", $"Rests on {FigureWords.People(study, question.Counts)}, {NumberFormat.Count(question.Counts.Rows, "row", "rows")}.");
            WriteLeftOut(page, study, question);
            WriteModel(page, question);
            SupplementSection.Write(page, question);
            foreach (ResultTable table in question.Tables)
                WriteTable(page, table);
            foreach (Figure figure in figures)
                FigureSection.Write(page, figure);
            TraceSection.Write(page, results, question);
        });
        page.Close("div");
    }

    private static void WriteLeftOut(HtmlWriter page, StudyFacts study, QuestionResult question)
    {
        if (question.LeftOut.IsEmpty)
            return;
        page.Element("p", "Could not be used:");
        page.List(question.LeftOut.Select(r => $"{r.Reason}: {FlowWords.ReasonCounts(study, r)}"));
    }

    private static void WriteModel(HtmlWriter page, QuestionResult question)
    {
        if (question.Model.Length > 0)
        {
            page.Heading(3, "Model");
            page.Element("p", question.Model);
        }
        if (!question.Estimates.IsEmpty)
        {
            page.Heading(3, "Estimates");
            EstimateTable.Write(page, $"Estimates of {question.Id}", question.Estimates, question);
            EstimateTable.Write(page, $"The same exposures by another planned method, {question.Id}", question.Beside, question);
        }
        WriteChecks(page, question);
        if (!question.Citations.IsEmpty)
            page.Element("p", $"Methods after: {string.Join(" ", question.Citations)}", ("class", "note"));
    }

    /// <summary>The checks of the analysis and those that run beside it, in one table: a reader asks what failed, not which part of the program looked.</summary>
    private static void WriteChecks(HtmlWriter page, QuestionResult question)
    {
        HtmlRow[] rows =
        [
            .. question.Diagnostics.Select(d => HtmlRow.Of(d.Check, d.Passed switch { true => "held", false => "DOUBTFUL", null => "for information" }, d.Words, d.Alternative ?? string.Empty)),
            .. question.Supplement.Findings.Select(f => HtmlRow.Of(f.Check, Firmness.Status(f.Status), f.Words, f.Alternative ?? string.Empty)),
        ];
        if (rows.Length == 0)
            return;
        page.Heading(3, "Checks of the model");
        new HtmlTable(
            $"Checks of the model of {question.Id}", ["Check", "Result", "What was found", "Planned analysis to read beside it"], [.. rows])
        {
            Footnotes = ["A check that does not hold changes the wording of the answer and never its model."],
        }.Write(page);
    }

    internal static void WriteTable(HtmlWriter page, ResultTable table) => new HtmlTable(
        table.Caption,
        [.. table.Columns.Select((title, i) => new HtmlColumn(title, IsNumeric: i > 0))],
        [.. table.Rows.Select(r => new HtmlRow([.. r.Cells.Select(c => new HtmlCell(c.Text, c.Sort))], r.Indent))])
    { Footnotes = table.Footnotes }.Write(page);
}
