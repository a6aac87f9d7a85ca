using System.Collections.Immutable;
using RotationStudy.Report.Documents;
using RotationStudy.Report.Documents.Pdf;
using RotationStudy.Report.Documents.Slides;
using RotationStudy.Report.Documents.Word;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Files;
using RotationStudy.Report.Html;
using RotationStudy.Report.Record;
using RotationStudy.Report.Sections;
using RotationStudy.Study.Results;

namespace RotationStudy.Report;

/// <summary>The front door: from results to a finished run folder.</summary>
/// <remarks>
/// Writes report.html, report.pdf, report.docx, slides.pptx, figures.html, results.json, results.csv, results.parquet, tables/ (CSV), figures/ (PNG, SVG, data as CSV, alternative text),
/// trace/ (the rows of each question by their ids), chain.jsonl and last record.json with the hash of each. Only then does the folder move into place. The same results give the same bytes.
/// <example><code>
/// using RunFolder folder = RunFolder.Open(path, overwrite);
/// folder.Write("query-list.csv", queries);        // whatever else belongs to the run
/// StudyReport.Write(results, folder, progress);
/// </code></example>
/// </remarks>
public static class StudyReport
{
    /// <summary>Draws, writes and completes the run.</summary>
    /// <param name="results">The results.</param>
    /// <param name="folder">The open run folder; further files may have been written into it before.</param>
    /// <param name="progress">Told what is being done, a few words each; null for silence.</param>
    /// <exception cref="OutputError">Something could not be written; an earlier run in that place is intact.</exception>
    /// <returns>The record of the run.</returns>
    public static RunRecord Write(StudyResults results, RunFolder folder, IProgress<string>? progress = null)
    {
        progress?.Report("drawing figures");
        ImmutableArray<Figure> figures = FigureCatalog.DrawAll(results);
        foreach (Figure figure in figures)
            WriteFigure(folder, figure);
        foreach (FigureRequest request in results.Figures)
            WriteUses(folder, results, request);
        folder.Write("figures.html", FigureList.Write(results, figures));
        progress?.Report("writing results");
        WriteResults(folder, results);
        progress?.Report("writing the report");
        HtmlWriter page = ReportPage.Compose(results, figures);
        folder.Write("report.html", page.Finish());
        Paper paper = PaperReader.Read(page.Tree, results.Study.Title, figures);
        folder.Write("report.pdf", PdfReport.Write(paper));
        folder.Write("report.docx", WordReport.Write(paper));
        folder.Write("slides.pptx", SlideDeck.Write(results, results.Figures));
        return folder.Complete(results);
    }

    private static void WriteFigure(RunFolder folder, Figure figure)
    {
        string name = "figures/" + figure.Id;
        folder.Write(name + ".png", figure.Png.Span);
        folder.Write(name + ".svg", figure.Svg);
        folder.Write(name + ".csv", figure.Data.ToCsv());
        folder.Write(name + ".txt", figure.AlternativeText + "\n");
    }

    private static void WriteUses(RunFolder folder, StudyResults results, FigureRequest request)
    {
        foreach (string use in request.Uses)
        {
            foreach ((string name, byte[] content) in FigureFiles.Draw(results, request, use, $"{request.Id}-{use}"))
                folder.Write("figures/" + name, content);
        }
    }

    private static void WriteResults(RunFolder folder, StudyResults results)
    {
        FlatTable estimates = EstimateList.ToTable(EstimateList.Of(results));
        folder.Write("results.json", ResultsJson.Write(results));
        folder.Write("results.csv", estimates.ToCsv());
        folder.Write("results.parquet", ResultsParquet.Write(estimates));
        if (results.Scores is { } scores)
        {
            SmallCounts hide = new(results.Study.SmallestPrintedCount);
            folder.Write("tables/score-readings.csv", ScoreReadingsSection.Lines(scores, hide).ToCsv());
            folder.Write("tables/score-readings-pairs.csv", ScoreReadingsSection.Pairs(scores, hide).ToCsv());
        }
        foreach (QuestionResult question in results.Questions)
        {
            if (question.Trace is { } trace && results.Rows.FirstOrDefault(r => r.Question == question.Id) is { } rows)
                folder.Write(trace.RowsFile, TracedRows.ToTable(rows).ToCsv());
        }
        folder.Write("tables/missing-values.csv", MissingSection.Map(results).ToCsv());
        folder.Write("tables/missing-patterns.csv", MissingSection.Patterns(results).ToCsv());
        foreach (QuestionResult question in results.Questions)
        {
            foreach (ResultTable table in question.Tables)
                folder.Write($"tables/{HtmlWriter.Id("", question.Id)}-{HtmlWriter.Id("", table.Id)}.csv", TableAsFlat(table).ToCsv());
            foreach (ShapeCurve shape in question.Supplement.Shapes)
                folder.Write($"tables/{HtmlWriter.Id("", question.Id)}-curve-{HtmlWriter.Id("", shape.Exposure)}.csv", ShapeTable.All(shape).ToCsv());
        }
    }

    private static FlatTable TableAsFlat(ResultTable table) => new(
        ["level", .. table.Columns],
        [.. table.Rows.Select(r => ImmutableArray.CreateRange<FlatCell>([r.Indent, .. r.Cells.Select(c => (FlatCell)c.Text)]))]);
}
