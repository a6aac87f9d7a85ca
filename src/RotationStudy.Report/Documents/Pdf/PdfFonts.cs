using PdfSharp.Drawing;
using PdfSharp.Fonts;
using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>Gives PDFsharp the typeface that travels with the program; no font of the machine is ever used.</summary>
internal sealed class PdfFonts : IFontResolver
{
    private const string Family = "Open Sans", RegularFace = "regular", BoldFace = "bold";

    private static readonly Lazy<PdfFonts> Installed = new(() =>
    {
        PdfFonts fonts = new();
        GlobalFontSettings.FontResolver = fonts;
        return fonts;
    });

    private PdfFonts()
    {
    }

    /// <summary>A font of that size in points.</summary>
    internal static XFont Of(float size, bool bold)
    {
        _ = Installed.Value;
        return new XFont(Family, size, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
    }

    /// <inheritdoc/>
    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? BoldFace : RegularFace);

    /// <inheritdoc/>
    public byte[]? GetFont(string faceName) => Lettering.FontFile(bold: faceName == BoldFace);
}
