using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Wordprocessing;
using RotationStudy.Report.Figures;
using A = DocumentFormat.OpenXml.Drawing;
using Pic = DocumentFormat.OpenXml.Drawing.Pictures;
using Wp = DocumentFormat.OpenXml.Drawing.Wordprocessing;

namespace RotationStudy.Report.Documents.Word;

/// <summary>A figure in the text, at its size in print, with its description for screen readers.</summary>
internal static class WordPicture
{
    private const float Widest = 481.9f, Tallest = 640;
    private const int EmuPerPoint = 12700;
    private const string PictureKind = "http://schemas.openxmlformats.org/drawingml/2006/picture";

    internal static Run Of(MainDocumentPart main, Figure figure, int number)
    {
        ImagePart image = main.AddImagePart(ImagePartType.Png, FormattableString.Invariant($"figure{number}"));
        using (MemoryStream stream = new(figure.Png.ToArray()))
            image.FeedData(stream);
        float scale = Math.Min(1, Math.Min(Widest / figure.Width, Tallest / figure.Height));
        long width = (long)(figure.Width * scale * EmuPerPoint), height = (long)(figure.Height * scale * EmuPerPoint);
        return new Run(new Drawing(new Wp.Inline(
            new Wp.Extent { Cx = width, Cy = height },
            new Wp.DocProperties { Id = (uint)number, Name = OfficeFile.Text(figure.Id), Description = OfficeFile.Text(figure.AlternativeText) },
            new Wp.NonVisualGraphicFrameDrawingProperties(new A.GraphicFrameLocks { NoChangeAspect = true }),
            new A.Graphic(new A.GraphicData(Picture(main.GetIdOfPart(image), figure.Id, number, width, height)) { Uri = PictureKind }))
        { DistanceFromTop = 0, DistanceFromBottom = 0, DistanceFromLeft = 0, DistanceFromRight = 0 }));
    }

    private static Pic.Picture Picture(string part, string name, int number, long width, long height) => new(
        new Pic.NonVisualPictureProperties(
            new Pic.NonVisualDrawingProperties { Id = (uint)number, Name = name },
            new Pic.NonVisualPictureDrawingProperties()),
        new Pic.BlipFill(new A.Blip { Embed = part }, new A.Stretch(new A.FillRectangle())),
        new Pic.ShapeProperties(
            new A.Transform2D(new A.Offset { X = 0, Y = 0 }, new A.Extents { Cx = width, Cy = height }),
            new A.PresetGeometry(new A.AdjustValueList()) { Preset = A.ShapeTypeValues.Rectangle }));
}
