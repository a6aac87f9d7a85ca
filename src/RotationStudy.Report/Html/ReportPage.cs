using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Sections;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Html;

/// <summary>The order of the sections of report.html, and which figure stands where; nothing else.</summary>
internal static class ReportPage
{
    private const string OverviewTitle = "All estimates at a glance";

    internal static string Write(StudyResults results, ImmutableArray<Figure> figures) => Compose(results, figures).Finish();

    /// <summary>The page, as text and as the tree from which the report becomes PDF and DOCX.</summary>
    internal static HtmlWriter Compose(StudyResults results, ImmutableArray<Figure> figures)
    {
        HtmlWriter page = new();
        PageShell.Begin(page, VisibleText.Of(results.Study.Title));
        FrontPage.WriteHeader(page, results);
        FrontPage.WriteContents(page, Contents(results));
        page.Open("main");
        FrontPage.WriteAnswers(page, results);
        CourseSection.WriteFlags(page, results);
        FlowSection.Write(page, results, Placed(results, figures, request => request.Kind == "participant_flow"));
        MissingSection.Write(page, results, Placed(results, figures, request => request.Kind == "missing_map"));
        PlanFaultsSection.Write(page, results);
        WriteOverview(page, Overview(results, figures));
        DataQualitySection.Write(page, results);
        foreach (QuestionResult question in results.Questions)
        {
            QuestionSection.Write(page, results, question,
                Placed(results, figures, request => request.Questions is [var only] && only == question.Id));
            foreach (ChoiceGarden garden in results.Gardens.Where(g => g.Question == question.Id))
                ChoicesSection.Write(page, garden);
            SiteEffectsSection.Write(page, results, question.Id);
        }
        foreach (PredictionResult prediction in results.Predictions)
        {
            PredictionSection.Write(page, results.Study, prediction,
                Placed(results, figures, request => request.Questions is [var only] && only == prediction.Id));
        }
        CourseSection.WriteCourse(page, results);
        PicturesSection.Write(page, Placed(results, figures, PicturesSection.Holds));
        ScoreReadingsSection.Write(page, results);
        MethodsSection.WriteMeasures(page, results);
        MethodsSection.WriteMethods(page, results);
        DeviationsSection.Write(page, results);
        ReportingItemsSection.Write(page, results);
        RecordSection.Write(page, results);
        CautionsSection.Write(page, results.Study);
        MeasureAppendix.Write(page, results);
        page.Close("main");
        PageShell.End(page);
        return page;
    }

    private static void WriteOverview(HtmlWriter page, ImmutableArray<Figure> figures)
    {
        if (figures.IsEmpty)
            return;
        page.Section("overview", OverviewTitle, () =>
        {
            foreach (Figure figure in figures)
                FigureSection.Write(page, figure);
        });
    }

    private static ImmutableArray<Figure> Overview(StudyResults results, ImmutableArray<Figure> figures)
        => Placed(results, figures, request => request.Questions.Length > 1);

    private static IEnumerable<(string Id, string Title)> Contents(StudyResults results) =>
    [
        ("answers", "Questions and answers"),
        .. CourseSection.HasFlags(results) ? [(CourseSection.FlagsAnchor, CourseSection.FlagsTitle)] : Array.Empty<(string, string)>(),
        ("flow", "Who took part"),
        (MissingSection.Anchor, MissingSection.Title),
        .. results.Figures.Any(f => f.Questions.Length > 1) ? [("overview", OverviewTitle)] : Array.Empty<(string, string)>(),
        ("quality", "Data quality"),
        .. results.Questions.Select(q => (QuestionSection.AnchorOf(q), $"{q.Id} {q.Title}")),
        .. results.Predictions.Select(p => (PredictionSection.AnchorOf(p), $"{p.Id} {p.Title}")),
        .. CourseSection.HasCourse(results) ? [(CourseSection.CourseAnchor, CourseSection.CourseTitle)] : Array.Empty<(string, string)>(),
        .. results.Figures.Any(PicturesSection.Holds) ? [(PicturesSection.Anchor, PicturesSection.Title)] : Array.Empty<(string, string)>(),
        .. results.Scores is null ? Array.Empty<(string, string)>() : [("scores", ScoreReadingsSection.Title)],
        ("measures", "Definitions of the measures"),
        ("methods", "Methods and sources"),
        (DeviationsSection.Anchor, DeviationsSection.Title),
        (ReportingItemsSection.Anchor, ReportingItemsSection.Title),
        ("record", "Record of the run"),
        ("cautions", "Cautions"),
        .. MeasureAppendix.Has(results) ? [("explained", MeasureAppendix.Title)] : Array.Empty<(string, string)>(),
    ];

    private static ImmutableArray<Figure> Placed(StudyResults results, ImmutableArray<Figure> figures, Func<FigureRequest, bool> wanted)
        => [.. figures.Where((_, i) => wanted(results.Figures[i]))];
}
