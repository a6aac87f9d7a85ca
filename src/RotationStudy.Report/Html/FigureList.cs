using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Html;

/// <summary>All figures of a run in one page, as thumbnails with their titles, ids and files.</summary>
internal static class FigureList
{
    internal static string Write(StudyResults results, ImmutableArray<Figure> figures)
    {
        HtmlWriter page = new();
        PageShell.Begin(page, "Figures: " + results.Study.Title);
        page.Open("main", ("id", "answers")).Element("h1", "Figures of this run");
        page.Element("p", $"For another use: rotationstudy figure <run folder> <id> --for <use> --to <folder>. Uses are {string.Join(", ", FigureFiles.Uses)}.");
        foreach (Figure figure in figures)
        {
            page.Open("figure", ("class", "thumbnail"));
            page.Open("img", ("alt", figure.AlternativeText), ("width", "320"), ("src", "data:image/png;base64," + Convert.ToBase64String(figure.Thumbnail.Span)));
            page.Open("figcaption").Element("strong", figure.Title + ". ").Text($"id: {figure.Id}. Files: ");
            foreach (string ending in new[] { "png", "svg", "csv", "txt" })
                page.Link($"figures/{figure.Id}.{ending}", ending.ToUpperInvariant()).Text(" ");
            page.Close("figcaption").Close("figure");
        }
        page.Close("main");
        PageShell.End(page);
        return page.Finish();
    }
}
