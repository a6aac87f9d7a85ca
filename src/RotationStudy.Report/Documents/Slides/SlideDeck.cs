using System.Collections.Immutable;
using System.Xml.Linq;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;
using static RotationStudy.Report.Documents.Slides.SlideShapes;

namespace RotationStudy.Report.Documents.Slides;

/// <summary>The figures of a run as slides of 16:9: title, figure, caption, and a footnote of n and method, all text but the figure itself.</summary>
/// <remarks>
/// The figure is drawn anew for the room it has, so that no lettering is under 18 points. What does not fit a slide stands in its notes. The look
/// is that of a master with two layouts, light or dark. The same results give the same bytes.
/// </remarks>
public static class SlideDeck
{
    /// <summary>The file.</summary>
    /// <param name="results">Results of the run.</param>
    /// <param name="requests">The figures, in order.</param>
    /// <param name="dark">Whether the ground is near black, for a dark room.</param>
    public static byte[] Write(StudyResults results, ImmutableArray<FigureRequest> requests, bool dark = false)
    {
        FigureSlide[][] slides = [.. requests.Select(r => FigureSlides.Of(results, r, dark).ToArray())];
        using MemoryStream stream = new();
        using (PresentationDocument document = PresentationDocument.Create(stream, PresentationDocumentType.Presentation))
        {
            OfficeFile.Name(document.AddNewPart<CoreFilePropertiesPart>("core"), results.Study.Title);
            PresentationPart deck = document.AddPresentationPart();
            document.ChangeIdOfPart(deck, "presentation");
            SlideParts parts = SlideParts.Add(deck, dark);
            AddTitle(parts, results.Study);
            foreach (FigureSlide slide in slides.SelectMany(s => s))
                AddFigure(parts, results, slide);
            parts.Finish();
        }
        return OfficeFile.Settle(stream);
    }

    private static void AddTitle(SlideParts parts, StudyFacts study)
        => parts.AddSlide("layout-title", null, [study.Source, .. study.Cautions], Sheet("sld",
            Text(2, "Title", "ctrTitle", 0, 0, SlideWords.Fit(study.Title, 34, 840, 3)),
            Text(3, "Purpose", "subTitle", 1, 0, SlideWords.Fit(study.Purpose, 20, 840, 4)),
            Text(4, "Cautions", "body", 10, 0, SlideWords.Fit(string.Join(' ', study.Cautions), SlideStyle.TextSize, 840, 4))));

    private static void AddFigure(SlideParts parts, StudyResults results, FigureSlide slide)
    {
        FigurePage page = slide.Drawing.Page;
        float scale = page.Style.Scale * slide.Scale, width = page.Width * scale, height = page.Height * scale;
        bool isShort = Lettering.Width(slide.Title, SlideStyle.TitleSize, bold: true) <= SlideStyle.Filled * SlideStyle.TextWidth;
        XDocument sheet = Sheet("sld",
            Text(2, "Title", "title", 0, isShort ? 0 : SlideStyle.LongTitleSize, SlideWords.Fit(slide.Title, isShort ? SlideStyle.TitleSize : SlideStyle.LongTitleSize, SlideStyle.TextWidth, isShort ? 1 : 2)),
            Picture(3, slide.Request.Id, slide.Drawing.AlternativeText, SlideParts.PicturePart,
                SlideStyle.Left + (SlideStyle.TextWidth - width) / 2, SlideStyle.FigureTop + (SlideStyle.FigureHeight - height) / 2, width, height),
            Text(4, "Caption", "body", 10, 0, SlideWords.Fit(slide.Drawing.Caption, SlideStyle.TextSize, SlideStyle.TextWidth, SlideStyle.Lines)),
            Text(5, "Footnote", "body", 11, 0, SlideWords.Fit(SlideWords.Footnote(results, slide.Request), SlideStyle.TextSize, SlideStyle.TextWidth, SlideStyle.Lines)));
        parts.AddSlide("layout-figure", FigurePng.Write(page),
            SlideWords.Notes(results, slide.Request, slide, FigureTheme.SmallSize * scale), sheet);
    }
}
