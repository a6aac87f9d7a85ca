using System.Xml.Linq;
using DocumentFormat.OpenXml.Packaging;
using static RotationStudy.Report.Documents.Slides.SlideShapes;

namespace RotationStudy.Report.Documents.Slides;

/// <summary>The parts of a presentation: theme, master, layouts and notes master from files, then the slides.</summary>
internal sealed class SlideParts
{
    /// <summary>Name by which a slide knows its picture.</summary>
    internal const string PicturePart = "picture";

    private const int FirstSlideId = 256;

    private readonly PresentationPart _deck;
    private readonly Dictionary<string, SlideLayoutPart> _layouts = [];
    private readonly NotesMasterPart _notes;
    private readonly List<string> _slides = [];

    private SlideParts(PresentationPart deck, NotesMasterPart notes) => (_deck, _notes) = (deck, notes);

    internal static SlideParts Add(PresentationPart deck, bool dark)
    {
        string look = dark ? "dark" : "light";
        SlideMasterPart master = deck.AddNewPart<SlideMasterPart>("master");
        NotesMasterPart notes = deck.AddNewPart<NotesMasterPart>("notes-master");
        SlideParts parts = new(deck, notes);
        foreach (string name in new[] { "layout-title", "layout-figure" })
        {
            SlideLayoutPart layout = master.AddNewPart<SlideLayoutPart>(name);
            OfficeFile.Fill(layout, $"Slides/{name}.xml");
            layout.AddPart(master, "master");
            parts._layouts.Add(name, layout);
        }
        OfficeFile.Fill(master, $"Slides/master-{look}.xml");
        OfficeFile.Fill(master.AddNewPart<ThemePart>("theme"), $"Slides/theme-{look}.xml");
        OfficeFile.Fill(notes, "Slides/notes-master.xml");
        OfficeFile.Fill(notes.AddNewPart<ThemePart>("theme"), "Slides/theme-light.xml");
        return parts;
    }

    internal void AddSlide(string layout, byte[]? picture, IEnumerable<string> notes, XDocument sheet)
    {
        string id = FormattableString.Invariant($"slide{_slides.Count + 1}");
        SlidePart slide = _deck.AddNewPart<SlidePart>(id);
        slide.AddPart(_layouts[layout], "layout");
        if (picture is not null)
        {
            using MemoryStream stream = new(picture);
            slide.AddImagePart(ImagePartType.Png, PicturePart).FeedData(stream);
        }
        Feed(slide, sheet);
        NotesSlidePart page = slide.AddNewPart<NotesSlidePart>("notes");
        page.AddPart(_notes, "master");
        page.AddPart(slide, "slide");
        Feed(page, Sheet("notes", SlideImage(2), Text(3, "Notes", "body", 1, 0, notes)));
        _slides.Add(id);
    }

    /// <summary>Writes the list of slides.</summary>
    internal void Finish() => Feed(_deck, new XDocument(new XElement(P + "presentation",
        new XAttribute(XNamespace.Xmlns + "a", A.NamespaceName), new XAttribute(XNamespace.Xmlns + "r", R.NamespaceName), new XAttribute(XNamespace.Xmlns + "p", P.NamespaceName),
        new XElement(P + "sldMasterIdLst", new XElement(P + "sldMasterId", new XAttribute("id", "2147483648"), new XAttribute(R + "id", "master"))),
        new XElement(P + "notesMasterIdLst", new XElement(P + "notesMasterId", new XAttribute(R + "id", "notes-master"))),
        new XElement(P + "sldIdLst", _slides.Select((s, i) => new XElement(P + "sldId", new XAttribute("id", FirstSlideId + i), new XAttribute(R + "id", s)))),
        new XElement(P + "sldSz", new XAttribute("cx", Emu(SlideStyle.Width)), new XAttribute("cy", Emu(SlideStyle.Height))),
        new XElement(P + "notesSz", new XAttribute("cx", Emu(540)), new XAttribute("cy", Emu(720))))));

    private static void Feed(OpenXmlPart part, XDocument content)
    {
        using MemoryStream stream = new();
        content.Save(stream, SaveOptions.DisableFormatting);
        stream.Position = 0;
        part.FeedData(stream);
    }
}
