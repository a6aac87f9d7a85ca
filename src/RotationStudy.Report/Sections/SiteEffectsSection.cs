using System.Collections.Immutable;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>The effects of a question by site, their summary, and the planned model without each site.</summary>
internal static class SiteEffectsSection
{
    internal static void Write(HtmlWriter page, StudyResults results, string question)
    {
        ImmutableArray<SiteEffects> effects = [.. results.SiteEffects.Where(e => e.Question == question)];
        if (effects.IsEmpty)
            return;
        SmallCounts small = new(results.Study.SmallestPrintedCount);
        page.Section(HtmlWriter.Id("sites-", question), $"{question}: by site", () =>
        {
            page.Element("p", $"{effects[0].Reason} The planned model is fitted at each site by itself; the sites' estimates are then taken as drawn from a distribution of effects.");
            foreach (SiteEffects effect in effects)
                WriteEffect(page, effect, small);
        });
    }

    private static void WriteEffect(HtmlWriter page, SiteEffects effect, SmallCounts small)
    {
        page.Heading(3, effect.Label);
        page.Element("p", effect.Sentence, ("class", "answer"));
        new HtmlTable(
            $"{effect.Label}: {effect.Scale} by site",
            ["Site", HtmlColumn.Number("Participants"), HtmlColumn.Number("Estimate (95% interval)"), HtmlColumn.Number("Share in the mean"), HtmlColumn.Number("All sites but this one")],
            [.. effect.Sites.Select((site, i) => Row(site, effect.Without.IsEmpty ? null : effect.Without[i], small))])
        {
            Footnotes = [.. effect.Notes],
        }.Write(page);
        if (effect.Pooled.IsEmpty)
            return;
        new HtmlTable(
            $"{effect.Label}: summary of the sites",
            ["Method", HtmlColumn.Number("Mean (95% interval)"), HtmlColumn.Number("95% prediction interval"), HtmlColumn.Number("Between-site variance (95% interval)"), HtmlColumn.Number("Q (degrees of freedom), p"), HtmlColumn.Number("I squared (95% interval)")],
            [.. effect.Pooled.Select(p => Summary(p, effect.NoEffect == 1))])
        {
            Footnotes = ["The variance between sites is on the scale of the model (log ratios); its interval is that of the generalised Q statistic (Viechtbauer 2007). The prediction interval takes normally distributed effects for granted."],
        }.Write(page);
    }

    private static HtmlRow Row(SiteEstimate site, SiteEstimate? without, SmallCounts small) => HtmlRow.Of(
        site.Site,
        small.Text(site.Participants),
        Cell(site),
        site.Share is { } share ? new HtmlCell(NumberFormat.Percent(share), share) : "",
        without is null ? "" : Cell(without));

    private static HtmlCell Cell(SiteEstimate site)
        => site.Estimate is { } row ? new HtmlCell(NumberFormat.EstimateAndInterval(row), row.Value) : "not estimated";

    private static HtmlRow Summary(PooledEffect p, bool ratio)
    {
        string One(double value) => ratio ? NumberFormat.Ratio(value) : NumberFormat.Brief(value);
        return HtmlRow.Of(
            p.Method,
            $"{One(p.Mean)} ({One(p.Lower)} to {One(p.Upper)})",
            $"{One(p.PredictionLower)} to {One(p.PredictionUpper)}",
            $"{NumberFormat.Brief(p.BetweenVariance)} ({NumberFormat.Brief(p.BetweenLower)} to {NumberFormat.Brief(p.BetweenUpper)})",
            $"{NumberFormat.Fixed(p.Q, 2)} ({NumberFormat.Count(p.QDegreesOfFreedom)}), {NumberFormat.PClause(p.QPValue)}",
            $"{NumberFormat.Percent(p.Inconsistency)} ({NumberFormat.Percent(p.InconsistencyLower)} to {NumberFormat.Percent(p.InconsistencyUpper)})");
    }
}
