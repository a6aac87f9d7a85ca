using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>What stands beside the planned answer: curves of exposures, other analyses, missing data, unmeasured confounding, influence.</summary>
internal static class SupplementSection
{
    internal static void Write(HtmlWriter page, QuestionResult question)
    {
        QuestionSupplement supplement = question.Supplement;
        foreach (ShapeCurve shape in supplement.Shapes)
            WriteShape(page, question, shape);
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

    /// <summary>The curve of an exposure at a few round values; all its points are in the tables of the run.</summary>
    private static void WriteShape(HtmlWriter page, QuestionResult question, ShapeCurve shape)
    {
        page.Heading(3, $"As a curve: {shape.Label}");
        page.Element("p", $"{shape.Words} The plan's answer takes the relation as a straight line{(shape.NoEffect == 1 ? " on the log scale" : string.Empty)}.");
        string reference = NumberFormat.Brief(shape.Reference);
        new HtmlTable(
            $"{shape.Label} as a curve in {question.Id}: {shape.Scale}{(shape.Unit is null ? string.Empty : $" in {shape.Unit}")} against {reference}",
            [shape.Label, HtmlColumn.Number("Estimate"), HtmlColumn.Number("95% interval")],
            [.. ShapeTable.RoundPoints(shape).Select(i => HtmlRow.Of(
                new HtmlCell(NumberFormat.Brief(shape.X[i]), shape.X[i]),
                new HtmlCell(ShapeTable.Number(shape, shape.Estimate[i]), shape.Estimate[i]),
                new HtmlCell($"{ShapeTable.Number(shape, shape.Lower[i])} to {ShapeTable.Number(shape, shape.Upper[i])}", shape.Lower[i])))])
        {
            Footnotes = ["Intervals hold point by point."],
        }.Write(page);
    }

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
        ImmutableArray<EstimateRow> exposures = missing.Approaches[0].Estimates;
        bool imputed = missing.Approaches.Any(a => !a.MissingInformation.IsEmpty);
        new HtmlTable(
            $"Answers of {question.Id} under different assumptions about what is missing",
            ["Assumption", .. exposures.Select(e => HtmlColumn.Number(e.Label)), .. imputed ? [HtmlColumn.Number("Information missing")] : Array.Empty<HtmlColumn>()],
            [.. missing.Approaches.Select(a => new HtmlRow(
            [
                a.Name,
                .. a.Estimates.Select(e => new HtmlCell($"{NumberFormat.EstimateAndInterval(e)}, {NumberFormat.PClause(e.PValue)}", e.Value)),
                .. imputed ? [a.MissingInformation.IsEmpty ? "" : new HtmlCell($"at most {NumberFormat.Percent(a.MissingInformation.Max())}", a.MissingInformation.Max())] : Array.Empty<HtmlCell>(),
            ]))])
        {
            Footnotes = [$"Estimates are {(exposures.IsEmpty ? "as in the answer" : exposures[0].Scale + "s")} with 95% intervals."],
        }.Write(page);
    }

    private static void WriteInfluence(HtmlWriter page, QuestionResult question)
    {
        if (question.Supplement.Influence.IsEmpty)
            return;
        page.Heading(3, "Persons who move the estimates most");
        new HtmlTable(
            $"Estimates of {question.Id} without single persons",
            ["Estimate of", "Person left out", HtmlColumn.Number("Estimate without"), HtmlColumn.Number("Shift in standard errors")],
            [.. question.Supplement.Influence.SelectMany(i => i.Persons.Select(p => HtmlRow.Of(
                i.Label, p.Participant, new HtmlCell(NumberFormat.Brief(p.Without), p.Without), new HtmlCell(NumberFormat.Fixed(p.ShiftInStandardErrors, 2), p.ShiftInStandardErrors))))])
        {
            Footnotes = ["The model is fitted anew without each person in turn. A person who moves an estimate is no error; look at the record."],
        }.Write(page);
    }
}
