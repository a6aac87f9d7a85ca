using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The items that readers of a cohort study look for, and where this report answers each, or that the authors must.</summary>
/// <remarks>Items by number of the STROBE statement for cohort studies (von Elm E and others, Lancet 2007;370:1453-1457); the words are ours.</remarks>
internal static class ReportingItemsSection
{
    internal const string Anchor = "reporting-items";
    internal const string Title = "Reporting items";

    private const string Authors = "For the authors to write";

    internal static void Write(HtmlWriter page, StudyResults results) => page.Section(Anchor, Title, () =>
        new HtmlTable(
            "Items of the STROBE statement for cohort studies, in our words",
            ["Item", "What a reader looks for", "Where it is answered"],
            [.. Items(results).Select(i => HtmlRow.Of(i.Number, i.Asks, i.Anchor is null ? new HtmlCell(Authors) : new HtmlCell(i.Where) { Link = "#" + i.Anchor }))])
        {
            Footnotes =
            [
                "Source: von Elm E, Altman DG, Egger M, Pocock SJ, Gøtzsche PC, Vandenbroucke JP. Lancet 2007;370:1453-1457. The statement itself explains each item; this table is no substitute.",
            ],
        }.Write(page));

    private static ImmutableArray<Item> Items(StudyResults results)
    {
        string first = results.Questions.FirstOrDefault(q => q.Estimates.Length > 0) is { } q ? QuestionSection.AnchorOf(q) : "answers";
        string baseline = results.Questions.FirstOrDefault(q => q.Estimates.IsEmpty) is { } b ? QuestionSection.AnchorOf(b) : "flow";
        return
        [
            new("1", "Design named in title or abstract, and a summary", "answers", "Title and first page"),
            new("2", "Background and reasons", null, ""),
            new("3", "Objectives and hypotheses", "answers", "The question above each answer"),
            new("4", "Key elements of the design", "answers", "First page"),
            new("5", "Setting, places and dates", null, ""),
            new("6", "Who could take part, and how they were followed", "flow", "Who took part"),
            new("7", "Outcomes, exposures and confounders defined", "measures", "Definitions of the measures"),
            new("8", "How each variable was measured, alike in all groups", "measures", "Definitions of the measures"),
            new("9", "What was done against bias", first, "Adjustment with its reasons, by question"),
            new("10", "How the size of the study was reached", null, ""),
            new("11", "How numbers were handled, and groups chosen", "measures", "Definitions of the measures"),
            new("12a", "Statistical methods, with control of confounding", "methods", "Methods and sources"),
            new("12b", "Subgroups and interactions", first, "The model of each question"),
            new("12c", "How missing data were handled", MissingSection.Anchor, MissingSection.Title),
            new("12d", "How loss to follow-up was handled", MissingSection.Anchor, MissingSection.Title),
            new("12e", "Sensitivity analyses", first, "Beside each question"),
            new("13", "Numbers at each stage, reasons, and a flow diagram", "flow", "Who took part"),
            new("14a", "Characteristics of those who took part", baseline, "Baseline table"),
            new("14b", "How many values are missing for each variable", MissingSection.Anchor, MissingSection.Title),
            new("14c", "How long they were followed", MissingSection.Anchor, MissingSection.Title),
            new("15", "Numbers of outcome events", "answers", "Below each answer"),
            new("16", "Estimates with intervals, and what was adjusted for and why", first, "Estimates, by question"),
            new("17", "Other analyses", first, "Further checks, by question"),
            new("18", "Key results against the objectives", "answers", "Questions and answers"),
            new("19", "Limitations, direction and size of possible bias", "cautions", "Cautions; the rest is for the authors"),
            new("20", "A careful interpretation", null, ""),
            new("21", "How far the results hold elsewhere", null, ""),
            new("22", "Funding and the part of the funders", null, ""),
        ];
    }

    private sealed record Item(string Number, string Asks, string? Anchor, string Where);
}
