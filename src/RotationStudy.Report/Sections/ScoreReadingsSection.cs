using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>How the cohort reads under each definition of a score and each cut-off, and who reads differently.</summary>
internal static class ScoreReadingsSection
{
    internal const string Title = "The cohort under each score definition";

    private const string Note =
        "Scores of different definitions are never pooled. A score with a missing component is an interval: it is read only where both of its ends lie on one side of the cut-off.";

    internal static void Write(HtmlWriter page, StudyResults results)
    {
        if (results.Scores is not { } scores)
            return;
        SmallCounts hide = new(results.Study.SmallestPrintedCount);
        page.Section("scores", Title, () =>
        {
            new HtmlTable(
                $"Cut-offs, counted in {results.Study.ParticipantMany}",
                ["Definition", "Cut-off", HtmlColumn.Number("Reached"), HtmlColumn.Number("Below"), HtmlColumn.Number("Cannot tell"), HtmlColumn.Number("Not read"), HtmlColumn.Number("Share reached")],
                [.. scores.Lines.Select(l => HtmlRow.Of(
                    l.Label, l.CutOff, Cell(hide, l.Reached), Cell(hide, l.Below), Cell(hide, l.CannotTell), Cell(hide, l.NotRead), Share(hide, l)))])
            {
                Footnotes = [Note, .. scores.Lines.DistinctBy(l => l.Score).Select(l => $"{l.Score}: {l.Criteria}")],
            }.Write(page);
            if (scores.Pairs.IsEmpty)
                return;
            new HtmlTable(
                $"Two definitions side by side, counted in {results.Study.ParticipantMany} who can be read under both",
                ["First", "Second", HtmlColumn.Number("Both"), HtmlColumn.Number("First only"), HtmlColumn.Number("Second only"), HtmlColumn.Number("Neither")],
                [.. scores.Pairs.Select(p => HtmlRow.Of(
                    p.First, p.Second, Cell(hide, p.Both), Cell(hide, p.FirstOnly), Cell(hide, p.SecondOnly), Cell(hide, p.Neither)))]).Write(page);
        });
    }

    /// <summary>The first table for a file, small counts hidden as on the page.</summary>
    internal static FlatTable Lines(ScoreReadings scores, SmallCounts hide) => new(
        ["measure", "label", "score", "criteria", "cut_off", "reached", "below", "cannot_tell", "not_read"],
        [.. scores.Lines.Select(l => ImmutableArray.Create<FlatCell>(
            l.Measure, l.Label, l.Score, l.Criteria, l.CutOff, Flat(hide, l.Reached), Flat(hide, l.Below), Flat(hide, l.CannotTell), Flat(hide, l.NotRead)))]);

    /// <summary>The second table for a file.</summary>
    internal static FlatTable Pairs(ScoreReadings scores, SmallCounts hide) => new(
        ["first", "second", "both", "first_only", "second_only", "neither"],
        [.. scores.Pairs.Select(p => ImmutableArray.Create<FlatCell>(
            p.First, p.Second, Flat(hide, p.Both), Flat(hide, p.FirstOnly), Flat(hide, p.SecondOnly), Flat(hide, p.Neither)))]);

    private static HtmlCell Cell(SmallCounts hide, int n) => new(hide.Text(n), hide.Hides(n) ? null : n);

    private static FlatCell Flat(SmallCounts hide, int n) => hide.Hides(n) ? hide.Text(n) : (double)n;

    /// <summary>The share among those who can be read; hidden where a count behind it is.</summary>
    private static HtmlCell Share(SmallCounts hide, ScoreReadingLine line)
    {
        int read = line.Reached + line.Below;
        if (read == 0 || hide.Hides(line.Reached) || hide.Hides(line.Below))
            return "";
        double percent = 100.0 * line.Reached / read;
        return new HtmlCell(NumberFormat.Fixed(percent, 1) + "%", percent);
    }
}
