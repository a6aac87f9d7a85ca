using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Models developed on the cohort and published scores applied to it, with the caution that neither is a tool for the bedside.</summary>
internal static class PredictionSection
{
    internal static string AnchorOf(PredictionResult result) => HtmlWriter.Id("prediction-", result.Id);

    internal static void Write(HtmlWriter page, StudyFacts study, PredictionResult result, ImmutableArray<Figure> figures)
        => page.Section(AnchorOf(result), $"{result.Id} {result.Title}", () =>
        {
            page.Element("p", result.Kind == "score" ? $"A published score, applied to this cohort as printed. Source: {result.Asks}" : result.Asks);
            page.Element("p", result.Answer, ("class", "answer"));
            page.Element("p", $"Outcome: {result.Outcome}. {result.Counts.Rows.ToString(CultureInfo.InvariantCulture)} rows of {NumberFormat.Count(result.Counts.Participants, study.ParticipantOne, study.ParticipantMany)}. {result.Method}");
            page.List(result.Warnings);
            foreach (Figure figure in figures)
                FigureSection.Write(page, figure);
            WritePerformance(page, result);
            WritePoints(page, study, result);
            WriteTerms(page, result);
            WriteDecision(page, result);
            WriteNeeds(page, result);
            WriteList(page, "How the variables stand for those of the publication", result.Mapping);
            WriteList(page, "What could not be confirmed", result.Unconfirmed);
            WriteLeftOut(page, result);
            WriteItems(page, result);
            WriteList(page, "Sources of the methods", result.Citations);
        });

    private static void WritePerformance(HtmlWriter page, PredictionResult result)
    {
        if (result.Performance.IsEmpty)
            return;
        bool corrected = result.Performance.Any(p => p.Corrected is not null);
        ImmutableArray<HtmlColumn> columns = ["Measure", "Sample", HtmlColumn.Number("Value (95% interval)")];
        if (corrected)
            columns = columns.AddRange(HtmlColumn.Number("Optimism"), HtmlColumn.Number("Corrected"));
        page.Heading(3, "Performance");
        new HtmlTable($"Performance of {result.Id}", columns, [.. result.Performance.Select(p => new HtmlRow([.. Cells(p, corrected)]))])
        {
            Footnotes = ["Right values: observed over expected 1, calibration in the large 0, calibration slope 1 (below 1: predictions are too extreme). A Brier score is better the smaller it is; scaled, 0 is no better than the overall risk for all."],
        }.Write(page);
    }

    private static IEnumerable<HtmlCell> Cells(PerformanceRow p, bool corrected)
    {
        yield return p.Measure;
        yield return p.Sample;
        yield return new HtmlCell(p.Lower is { } lower ? $"{Three(p.Value)} ({Three(lower)} to {Three(p.Upper!.Value)})" : Three(p.Value), p.Value);
        if (!corrected)
            yield break;
        yield return p.Optimism is { } optimism ? new HtmlCell(Three(optimism), optimism) : "";
        yield return p.Corrected is { } value ? new HtmlCell(Three(value), value) : "";
    }

    private static void WritePoints(HtmlWriter page, StudyFacts study, PredictionResult result)
    {
        if (result.Points.IsEmpty)
            return;
        SmallCounts small = new(study.SmallestPrintedCount);
        page.Heading(3, "Published and observed risk by points");
        new HtmlTable(
            $"Risk by points of {result.Id}",
            [HtmlColumn.Number("Points"), HtmlColumn.Number("Rows"), HtmlColumn.Number("With the outcome"), HtmlColumn.Number("Observed (95% interval)"), HtmlColumn.Number("Published")],
            [.. result.Points.Select(p => HtmlRow.Of(
                new HtmlCell(NumberFormat.Count(p.Points), p.Points),
                small.Text(p.Rows),
                Hidden(small, p) ? "hidden" : NumberFormat.Count(p.Events),
                p.Rows == 0 || Hidden(small, p) ? "" : $"{NumberFormat.Percent((double)p.Events / p.Rows)} ({NumberFormat.Percent(p.Lower)} to {NumberFormat.Percent(p.Upper)})",
                p.Published is { } risk ? NumberFormat.Percent(risk, 1) : "not confirmed"))])
        {
            Footnotes = ["Intervals of single lines take rows as independent (Wilson)."],
        }.Write(page);
    }

    private static bool Hidden(SmallCounts small, PointsRow p) => small.Hides(p.Rows) || small.Hides(p.Events) || small.Hides(p.Rows - p.Events);

    private static void WriteTerms(HtmlWriter page, PredictionResult result)
    {
        if (result.Terms.IsEmpty)
            return;
        page.Heading(3, "Coefficients");
        new HtmlTable(
            $"Coefficients of {result.Id}",
            ["Term", HtmlColumn.Number("Log odds"), HtmlColumn.Number("Odds ratio")],
            [.. result.Terms.Select((t, i) => HtmlRow.Of(t.Label, new HtmlCell(NumberFormat.Fixed(t.Coefficient, 4), t.Coefficient), i == 0 ? "" : NumberFormat.Ratio(Math.Exp(t.Coefficient))))])
        {
            Footnotes = ["Penalised coefficients are drawn towards zero on purpose, so no interval is given, and no effect may be read from them."],
        }.Write(page);
    }

    private static void WriteDecision(HtmlWriter page, PredictionResult result)
    {
        if (result.Decision.IsEmpty)
            return;
        page.Heading(3, "Net benefit");
        new HtmlTable(
            $"Net benefit of {result.Id}",
            ["Sample", HtmlColumn.Number("Threshold"), HtmlColumn.Number("Acting on the prediction (95% interval)"), HtmlColumn.Number("Acting on all")],
            [.. result.Decision.Select(d => HtmlRow.Of(
                d.Sample, new HtmlCell(NumberFormat.Percent(d.Threshold), d.Threshold),
                new HtmlCell($"{Three(d.NetBenefit)} ({Three(d.Lower)} to {Three(d.Upper)})", d.NetBenefit), new HtmlCell(Three(d.ActOnAll), d.ActOnAll)))])
        {
            Footnotes = ["True alarms less false alarms weighed by the odds of the threshold, per row; acting on none is 0. Where the prediction is below both, acting on it would do harm. On the rows of development these are apparent, not corrected."],
        }.Write(page);
    }

    private static void WriteNeeds(HtmlWriter page, PredictionResult result)
    {
        if (result.SampleNeeds.IsEmpty)
            return;
        page.Heading(3, "Sample size");
        new HtmlTable(
            $"Persons that {result.Id} needs",
            ["Criterion", HtmlColumn.Number("Persons needed"), "As many are there"],
            [.. result.SampleNeeds.Select(n => HtmlRow.Of(n.Criterion, new HtmlCell(NumberFormat.Count(n.Persons), n.Persons), n.Met ? "yes" : "NO"))])
        {
            Footnotes = ["Riley and others 2020, from the share and R squared that the protocol expected before the data were opened; persons are counted, not rows, to be cautious."],
        }.Write(page);
    }

    private static void WriteList(HtmlWriter page, string title, ImmutableArray<string> sentences)
    {
        if (sentences.IsEmpty)
            return;
        page.Heading(3, title);
        page.List(sentences);
    }

    private static void WriteLeftOut(HtmlWriter page, PredictionResult result)
        => WriteList(page, "Rows left out", [.. result.LeftOut.Select(l => $"{l.Reason}: {NumberFormat.Count(l.Rows, "row", "rows")}.")]);

    private static void WriteItems(HtmlWriter page, PredictionResult result)
    {
        if (result.Items.IsEmpty)
            return;
        page.Heading(3, "Items of TRIPOD");
        new HtmlTable($"Items of TRIPOD for {result.Id}", ["Item", "In this report"], [.. result.Items.Select(i => HtmlRow.Of(i.Item, i.Says))]).Write(page);
    }

    private static string Three(double value) => NumberFormat.Fixed(value, 3);
}
