using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>What stands beside the planned answer: checks that run unasked, other analyses, missing data, unmeasured confounding, influence.</summary>
internal static class SupplementSection
{
    internal static void Write(HtmlWriter page, QuestionResult question)
    {
        QuestionSupplement supplement = question.Supplement;
        if (!supplement.Findings.IsEmpty)
        {
            page.Heading(3, "Further checks");
            new HtmlTable(
                $"Further checks of {question.Id}",
                ["Check", "Result", "What was found", "Planned analysis to read beside it"],
                [.. supplement.Findings.Select(f => HtmlRow.Of(f.Check, Status(f.Status), f.Words, f.Alternative ?? string.Empty))]).Write(page);
        }
        foreach (SupplementaryResult other in supplement.Others)
            WriteOther(page, question, other);
        if (supplement.MissingData is { } missing)
            WriteMissing(page, question, missing);
        MeasurementErrorSection.Write(page, question);
        if (!supplement.EValues.IsEmpty)
        {
            page.Heading(3, "Unmeasured confounding");
            page.List(supplement.EValues.Select(e => $"{e.Label}: {e.Words}"));
        }
        WriteInfluence(page, question);
    }

    private static string Status(FindingStatus status) => status switch
    {
        FindingStatus.Held => "held",
        FindingStatus.Doubtful => "DOUBTFUL",
        _ => "not checkable",
    };

    private static void WriteOther(HtmlWriter page, QuestionResult question, SupplementaryResult other)
    {
        page.Heading(3, other.Name);
        page.Element("p", $"{other.WhatDiffers} {other.Reason}");
        page.Element("p", other.Answer);
        EstimateTable.Write(page, $"Estimates of {question.Id}: {other.Name}", other.Estimates, question);
    }

    private static void WriteMissing(HtmlWriter page, QuestionResult question, MissingDataComparison missing)
    {
        page.Heading(3, "Missing values");
        page.Element("p", missing.Sentence, ("class", "answer"));
        page.Element("p", $"{missing.IncompleteRows} of {missing.Rows} rows lack a value. {missing.Method}");
        new HtmlTable(
            $"Answers of {question.Id} under different assumptions about what is missing",
            ["Assumption", "Estimate of", "Estimate (95% interval)", "p", "Missing information"],
            [.. missing.Approaches.SelectMany(a => a.Estimates.Select((e, i) => HtmlRow.Of(
                a.Name, e.Label, NumberFormat.EstimateAndInterval(e), NumberFormat.PValue(e.PValue),
                a.MissingInformation.IsEmpty ? string.Empty : NumberFormat.Percent(a.MissingInformation[i]))))]).Write(page);
    }

    private static void WriteInfluence(HtmlWriter page, QuestionResult question)
    {
        if (question.Supplement.Influence.IsEmpty)
            return;
        page.Heading(3, "Persons who move the estimates most");
        new HtmlTable(
            $"Estimates of {question.Id} without single persons",
            ["Estimate of", "Person left out", "Estimate without", "Shift in standard errors"],
            [.. question.Supplement.Influence.SelectMany(i => i.Persons.Select(p => HtmlRow.Of(
                i.Label, p.Participant, NumberFormat.Brief(p.Without), NumberFormat.Brief(p.ShiftInStandardErrors))))]).Write(page);
    }
}
