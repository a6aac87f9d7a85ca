using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The planned estimates beside those corrected for error of measurement.</summary>
internal static class MeasurementErrorSection
{
    internal static void Write(HtmlWriter page, QuestionResult question)
    {
        if (question.Supplement.MeasurementError is not { } comparison)
            return;
        page.Heading(3, "Error of measurement");
        page.Element("p", comparison.Sentence, ("class", "answer"));
        if (comparison.Errors.IsEmpty)
            return;
        page.Element("p", comparison.Method);
        new HtmlTable(
            $"Errors that {question.Id} is corrected for",
            ["Measure", "Error of one value (95% interval)", "Degrees of freedom", "Reliability", "Reliability given the other terms", "From"],
            [.. comparison.Errors.Select(e => HtmlRow.Of(
                e.Unit is null ? e.Label : $"{e.Label}, {e.Unit}",
                $"{NumberFormat.Brief(e.Error)} ({NumberFormat.Brief(e.ErrorLower)} to {NumberFormat.Brief(e.ErrorUpper)})",
                double.IsInfinity(e.DegreesOfFreedom) ? "known" : NumberFormat.Fixed(e.DegreesOfFreedom, 1),
                NumberFormat.Fixed(e.Reliability, 2), NumberFormat.Fixed(e.ConditionalReliability, 2), e.From))]).Write(page);
        new HtmlTable(
            $"Estimates of {question.Id} under different sizes of the error",
            ["Assumption", "Estimate of", "Estimate (95% interval)", "p"],
            [.. comparison.Approaches.SelectMany(Rows)]).Write(page);
        page.Element("p", "What the correction takes for granted:");
        page.List(comparison.Assumptions);
    }

    private static IEnumerable<HtmlRow> Rows(MeasurementErrorApproach approach)
        => approach.Estimates.IsEmpty
            ? [HtmlRow.Of(approach.Name, "all", "an error of this size leaves nothing to estimate from", string.Empty)]
            : approach.Estimates.Select(e => HtmlRow.Of(approach.Name, e.Label, NumberFormat.EstimateAndInterval(e), NumberFormat.PValue(e.PValue)));
}
