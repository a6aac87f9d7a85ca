using System.Globalization;
using System.Xml.Linq;

namespace RotationStudy.Report.Documents.Slides;

/// <summary>The elements of which slides are made, as the format writes them.</summary>
internal static class SlideShapes
{
    internal static readonly XNamespace A = "http://schemas.openxmlformats.org/drawingml/2006/main";
    internal static readonly XNamespace P = "http://schemas.openxmlformats.org/presentationml/2006/main";
    internal static readonly XNamespace R = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    private const double EmuPerPoint = 12700;

    /// <summary>A slide, or the notes of one, with these shapes.</summary>
    internal static XDocument Sheet(string kind, params XElement[] shapes) => new(new XElement(P + kind,
        new XAttribute(XNamespace.Xmlns + "a", A.NamespaceName), new XAttribute(XNamespace.Xmlns + "r", R.NamespaceName), new XAttribute(XNamespace.Xmlns + "p", P.NamespaceName),
        new XElement(P + "cSld", new XElement(P + "spTree",
            new XElement(P + "nvGrpSpPr", Named(1, ""), new XElement(P + "cNvGrpSpPr"), new XElement(P + "nvPr")),
            new XElement(P + "grpSpPr"),
            shapes)),
        new XElement(P + "clrMapOvr", new XElement(A + "masterClrMapping"))));

    /// <summary>Text in a place that the layout holds ready; a size of 0 leaves the layout's.</summary>
    internal static XElement Text(int id, string name, string? type, int index, float size, params IEnumerable<string> paragraphs) => new(P + "sp",
        new XElement(P + "nvSpPr", Named(id, name), new XElement(P + "cNvSpPr", new XElement(A + "spLocks", new XAttribute("noGrp", 1))),
            new XElement(P + "nvPr", Place(type, index))),
        new XElement(P + "spPr"),
        new XElement(P + "txBody", new XElement(A + "bodyPr"), new XElement(A + "lstStyle"),
            paragraphs.Select(t => new XElement(A + "p", new XElement(A + "r",
                new XElement(A + "rPr", new XAttribute("lang", "en-GB"), size > 0 ? new XAttribute("sz", Whole(size * 100)) : null),
                new XElement(A + "t", OfficeFile.Text(t)))))));

    /// <summary>A picture at a place in points, with its description for screen readers.</summary>
    internal static XElement Picture(int id, string name, string words, string part, float x, float y, float width, float height) => new(P + "pic",
        new XElement(P + "nvPicPr", new XElement(P + "cNvPr", new XAttribute("id", id), new XAttribute("name", name), new XAttribute("descr", OfficeFile.Text(words))),
            new XElement(P + "cNvPicPr", new XElement(A + "picLocks", new XAttribute("noChangeAspect", 1))), new XElement(P + "nvPr")),
        new XElement(P + "blipFill", new XElement(A + "blip", new XAttribute(R + "embed", part)), new XElement(A + "stretch", new XElement(A + "fillRect"))),
        new XElement(P + "spPr",
            new XElement(A + "xfrm",
                new XElement(A + "off", new XAttribute("x", Emu(x)), new XAttribute("y", Emu(y))),
                new XElement(A + "ext", new XAttribute("cx", Emu(width)), new XAttribute("cy", Emu(height)))),
            new XElement(A + "prstGeom", new XAttribute("prst", "rect"), new XElement(A + "avLst"))));

    /// <summary>The small picture of the slide on its page of notes.</summary>
    internal static XElement SlideImage(int id) => new(P + "sp",
        new XElement(P + "nvSpPr", Named(id, "Slide"),
            new XElement(P + "cNvSpPr", new XElement(A + "spLocks", new XAttribute("noGrp", 1), new XAttribute("noRot", 1), new XAttribute("noChangeAspect", 1))),
            new XElement(P + "nvPr", Place("sldImg", 2))),
        new XElement(P + "spPr"));

    internal static string Emu(float points) => Whole(points * EmuPerPoint);

    private static XElement Place(string? type, int index) => new(P + "ph",
        type is null ? null : new XAttribute("type", type), index > 0 ? new XAttribute("idx", index) : null);

    private static XElement Named(int id, string name) => new(P + "cNvPr", new XAttribute("id", id), new XAttribute("name", name));

    private static string Whole(double value) => ((long)Math.Round(value)).ToString(CultureInfo.InvariantCulture);
}
