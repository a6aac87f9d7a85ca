using System.Collections.Immutable;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Presentation;
using DocumentFormat.OpenXml.Validation;
using RotationStudy.Report.Documents.Slides;
using RotationStudy.Study.Results;
using A = DocumentFormat.OpenXml.Drawing;

namespace RotationStudy.Tests.Report.Documents;

public class SlideDeckTests
{
    private static readonly StudyResults Results = SampleResults.Study();
    private static readonly Lazy<byte[]> Deck = new(() => SlideDeck.Write(Results, Results.Figures));

    [Fact]
    public void Two_writes_give_the_same_bytes()
        => Assert.True(Deck.Value.AsSpan().SequenceEqual(SlideDeck.Write(Results, Results.Figures)));

    [Theory]
    [InlineData("the sample", true)]
    [InlineData("hostile text", false)]
    [InlineData("nothing answered", true)]
    public void The_validator_of_the_format_finds_nothing(string name, bool dark)
    {
        using PresentationDocument document = Open(SlideDeck.Write(HardCases.All[name], HardCases.All[name].Figures, dark));
        ValidationErrorInfo[] errors = [.. new OpenXmlValidator(FileFormatVersions.Microsoft365).Validate(document)];
        Assert.True(errors.Length == 0, string.Join('\n', errors.Take(5).Select(e => $"{e.Part?.Uri}: {e.Description} {e.Path?.XPath}")));
    }

    [Fact]
    public void Every_slide_after_the_first_has_title_figure_caption_footnote_and_notes()
    {
        using PresentationDocument document = Open(Deck.Value);
        SlidePart[] slides = [.. SlidesOf(document)];
        Assert.True(slides.Length > Results.Figures.Length);
        foreach (SlidePart slide in slides.Skip(1))
        {
            Picture picture = Assert.Single(slide.Slide!.Descendants<Picture>());
            Assert.NotEmpty(picture.NonVisualPictureProperties!.NonVisualDrawingProperties!.Description!.Value!);
            string[] texts = [.. slide.Slide.Descendants<Shape>().Select(s => s.InnerText)];
            Assert.Equal(3, texts.Length);
            Assert.All(texts, Assert.NotEmpty);
            Assert.NotEmpty(slide.NotesSlidePart!.NotesSlide!.InnerText);
        }
        Assert.Contains(slides, s => s.Slide!.InnerText.Contains("knees of 251 participants", StringComparison.Ordinal));
    }

    [Fact]
    public void No_lettering_on_a_slide_is_under_eighteen_points()
    {
        Assert.All(Results.Figures.SelectMany(f => FigureSlides.Of(Results, f, dark: true)), slide =>
        {
            float least = slide.Drawing.Page.Texts.Min(t => t.Size) * slide.Drawing.Page.Style.Scale * slide.Scale;
            Assert.True(least > 17.9f, $"{slide.Title}: {least} points");
        });
        using PresentationDocument document = Open(Deck.Value);
        Assert.All(SlidesOf(document).SelectMany(s => s.Slide!.Descendants<A.RunProperties>()), r => Assert.True(r.FontSize is null || r.FontSize >= 1800));
        IEnumerable<OpenXmlPart> looks = document.PresentationPart!.SlideMasterParts.SelectMany(m => m.SlideLayoutParts.Cast<OpenXmlPart>().Append(m));
        Assert.All(looks.SelectMany(p => p.RootElement!.Descendants<A.DefaultRunProperties>()), r => Assert.True(r.FontSize is null || r.FontSize >= 1800));
    }

    [Fact]
    public void Pictures_stand_between_title_and_caption()
    {
        using PresentationDocument document = Open(Deck.Value);
        foreach (A.Transform2D place in SlidesOf(document).SelectMany(s => s.Slide!.Descendants<Picture>()).Select(p => p.ShapeProperties!.Transform2D!))
        {
            Assert.InRange(place.Offset!.X!.Value / 12700.0, 39.9, 960);
            Assert.InRange((place.Offset.X.Value + place.Extents!.Cx!.Value) / 12700.0, 0, 920.1);
            Assert.InRange(place.Offset.Y!.Value / 12700.0, 61.9, 540);
            Assert.InRange((place.Offset.Y.Value + place.Extents.Cy!.Value) / 12700.0, 0, 439.1);
        }
    }

    [Fact]
    public void A_forest_of_many_questions_goes_on_and_loses_none()
    {
        ImmutableArray<FigureSlide> slides = FigureSlides.Of(Results, Results.Figures[3], dark: false);
        Assert.True(slides.Length > 1);
        Assert.Equal(Results.Figures[3].Questions, slides.SelectMany(s => s.Request.Questions));
        Assert.EndsWith($"(1 of {slides.Length})", slides[0].Title, StringComparison.Ordinal);
    }

    [Fact]
    public void The_flow_goes_on_and_every_box_stands_on_one_slide()
    {
        ImmutableArray<FigureSlide> slides = FigureSlides.Of(Results, Results.Figures[0], dark: false);
        string all = string.Join(' ', slides.SelectMany(s => s.Drawing.Page.Texts).Select(t => t.Text));
        Assert.All(["Q2", "Q4", "Q6"], q => Assert.Contains(q, all, StringComparison.Ordinal));
        Assert.Contains("laxity score incomplete", slides[0].Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Whole_sentences_stand_on_a_slide_and_a_long_first_one_ends_in_an_ellipsis()
    {
        Assert.Equal("One. Two.", SlideWords.Fit("One. Two. " + new string('X', 40) + " and more words that do not fit.", 18, 200, 1));
        Assert.EndsWith("\u2026", SlideWords.Fit("A first sentence that is far too long for a line of so few points.", 18, 200, 1), StringComparison.Ordinal);
    }

    private static IEnumerable<SlidePart> SlidesOf(PresentationDocument document)
        => document.PresentationPart!.Presentation!.SlideIdList!.Elements<SlideId>().Select(s => (SlidePart)document.PresentationPart.GetPartById(s.RelationshipId!.Value!));

    private static PresentationDocument Open(byte[] file) => PresentationDocument.Open(new MemoryStream(file), isEditable: false);
}
