using PdfSharp.Drawing;
using PdfSharp.Pdf;
using PdfSharp.Pdf.Annotations;
using PdfSharp.UniversalAccessibility;
using SkiaSharp;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>Draws on the pages of a tagged PDF: whatever is no text of the report is marked as an artifact, so that a screen reader skips it.</summary>
internal sealed class PdfPen : IDisposable
{
    private const float FooterSize = 7.5f;

    private readonly PdfDocument _document;
    private readonly StructureBuilder _structure;
    private readonly string _footer;
    private readonly int _pages;
    private readonly Dictionary<(float, bool), XFont> _fonts = [];
    private XGraphics? _page;
    private PdfOutline? _section;

    internal PdfPen(PdfDocument document, string footer, int pages)
    {
        _document = document;
        _footer = footer;
        _pages = pages;
        UAManager manager = UAManager.ForDocument(document);
        manager.SetDocumentLanguage("en");
        _structure = manager.StructureBuilder;
    }

    internal PdfPage Page { get; private set; } = null!;

    private XGraphics Graphics => _page ?? throw new InvalidOperationException("No page has begun.");

    internal void NextPage()
    {
        // The new page first: it ends the marked text of an element that runs on, for which the old page must still be open.
        Page = _document.AddPage();
        _page?.Dispose();
        Page.Width = XUnit.FromPoint(PdfFlow.PageWidth);
        Page.Height = XUnit.FromPoint(PdfFlow.PageHeight);
        _page = XGraphics.FromPdfPage(Page);
        _structure.BeginArtifact();
        XBrush quiet = Brush(PdfInk.Quiet);
        float y = PdfFlow.PageHeight - 34;
        Graphics.DrawString(_footer, Font(FooterSize, false), quiet, PdfFlow.Left, y);
        string number = FormattableString.Invariant($"{_document.PageCount} of {_pages}");
        Graphics.DrawString(number, Font(FooterSize, false), quiet, PdfFlow.Right - Figures.Lettering.Width(number, FooterSize), y);
        _structure.End();
    }

    internal void Begin(PdfBlockLevelElementTag tag) => _structure.BeginElement(tag);

    internal void End() => _structure.End();

    internal void Text(string text, float x, float y, float size, bool bold = false, SKColor? ink = null)
        => Graphics.DrawString(text, Font(size, bold), Brush(ink ?? PdfInk.Ink), x, y);

    /// <summary>Text that leads to a place in the document.</summary>
    internal void Link(string text, float x, float y, float size, bool bold, PdfPlace to)
    {
        XRect covered = new(x, y - size, Figures.Lettering.Width(text, size, bold), 1.3 * size);
        PdfLinkAnnotation link = PdfLinkAnnotation.CreateDocumentLink(
            new PdfRectangle(Graphics.Transformer.WorldToDefaultPage(covered)), to.Page, new XPoint(0, PdfFlow.PageHeight - to.Y + 20));
        // A random name and the time of drawing: neither is needed, and both would change the bytes.
        link.Elements.Remove(PdfAnnotation.Keys.NM);
        link.Elements.Remove(PdfAnnotation.Keys.M);
        _structure.BeginElement(link, text);
        Text(text, x, y, size, bold, PdfInk.Link);
        _structure.End();
    }

    /// <summary>Lettering that repeats what was said, such as the head of a table on its second page.</summary>
    internal void Repeated(string text, float x, float y, float size, bool bold)
    {
        _structure.BeginArtifact();
        Text(text, x, y, size, bold);
        _structure.End();
    }

    internal void Rule(float x1, float y1, float x2, float y2, float width, SKColor ink)
    {
        _structure.BeginArtifact();
        Graphics.DrawLine(new XPen(Colour(ink), width), x1, y1, x2, y2);
        _structure.End();
    }

    internal void Fill(float x, float y, float width, float height, SKColor ink)
    {
        _structure.BeginArtifact();
        Graphics.DrawRectangle(Brush(ink), x, y, width, height);
        _structure.End();
    }

    internal void Picture(ReadOnlyMemory<byte> pdf, string words, float x, float y, float width, float height)
    {
        using MemoryStream stream = new(pdf.ToArray());
        using XPdfForm form = XPdfForm.FromStream(stream);
        _structure.BeginElement(PdfIllustrationElementTag.Figure, words, new XRect(x, y, width, height));
        Graphics.DrawImage(form, x, y, width, height);
        _structure.End();
    }

    /// <summary>A bookmark: sections lie at the top, headings of the third level below theirs.</summary>
    internal void Bookmark(int level, string title, float y)
    {
        PdfOutlineCollection among = level > 2 && _section is not null ? _section.Outlines : _document.Outlines;
        PdfOutline outline = among.Add(title, Page, false);
        outline.PageDestinationType = PdfPageDestinationType.Xyz;
        outline.Left = 0;
        outline.Top = PdfFlow.PageHeight - y;
        if (level == 2)
            _section = outline;
    }

    public void Dispose() => _page?.Dispose();

    private XFont Font(float size, bool bold)
    {
        if (!_fonts.TryGetValue((size, bold), out XFont? font))
            _fonts.Add((size, bold), font = PdfFonts.Of(size, bold));
        return font;
    }

    private static XSolidBrush Brush(SKColor ink) => new(Colour(ink));

    private static XColor Colour(SKColor ink) => XColor.FromArgb(ink.Red, ink.Green, ink.Blue);
}

/// <summary>Colours of a paper, those of the page in print.</summary>
internal static class PdfInk
{
    internal static readonly SKColor Ink = new(0x1e, 0x24, 0x2b), Quiet = new(0x4a, 0x52, 0x5c), Rule = new(0xc9, 0xce, 0xd4), Link = new(0x17, 0x49, 0x7d);
    internal static readonly SKColor Box = new(0xf4, 0xf6, 0xf8), Care = new(0xff, 0xf6, 0xe6), CareRule = new(0x9a, 0x62, 0x00), Stop = new(0xfd, 0xee, 0xea), StopRule = new(0xa8, 0x32, 0x1c);
}
