using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A laid-out figure as a PDF page of its final size, with vectors, and lettering as text in an embedded font. It has no date.</summary>
internal static class FigurePdf
{
    internal static byte[] Write(FigurePage page, string title)
    {
        float scale = page.Style.Scale;
        using MemoryStream stream = new();
        SKDocumentPdfMetadata facts = SKDocumentPdfMetadata.Default with { Title = title };
        using (SKDocument document = SKDocument.CreatePdf(stream, facts))
        {
            SKCanvas canvas = document.BeginPage(page.Width * scale, page.Height * scale);
            canvas.Scale(scale);
            canvas.Clear(page.Style.Paper);
            page.DrawMarks(canvas);
            page.DrawTexts(canvas);
            document.EndPage();
            document.Close();
        }
        return stream.ToArray();
    }
}
