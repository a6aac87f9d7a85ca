using PdfSharp.Pdf;
using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>The report as a tagged PDF on A4: vectors, fonts embedded, bookmarks, links, alternative texts. The same paper gives the same bytes.</summary>
/// <remarks>Pages are laid out first, in layout points, with the widths of the embedded typeface; then PDFsharp draws them, page numbers known.</remarks>
internal static class PdfReport
{
    private const float CaptionRoom = 60, HeadingRoom = 50;

    private static readonly Lock OneAtATime = new();

    /// <summary>The file.</summary>
    internal static byte[] Write(Paper paper)
    {
        PdfFlow flow = Lay(paper);
        // PDFsharp keeps fonts in tables shared by the process; one document at a time keeps their order, and so the bytes.
        lock (OneAtATime)
            return Draw(paper, flow);
    }

    private static byte[] Draw(Paper paper, PdfFlow flow)
    {
        using PdfDocument document = new();
        document.Info.Title = paper.Title;
        document.Info.Creator = "RotationStudy";
        // Blanked afterwards; fixed here so that its length does not depend on the time zone.
        document.Info.CreationDate = document.Info.ModificationDate = new DateTime(2000, 1, 1, 0, 0, 0, DateTimeKind.Utc);
        document.Language = "en";
        document.PageMode = PdfPageMode.UseOutlines;
        document.ViewerPreferences.DisplayDocTitle = true;
        using (PdfPen pen = new(document, Lettering.Wrap(paper.Title, 7.5f, PdfFlow.Width - 60, 1)[0], flow.Pages))
        {
            foreach (Action<PdfPen> mark in flow.Marks)
                mark(pen);
        }
        using MemoryStream stream = new();
        document.Save(stream, closeStream: false);
        return PdfSameBytes.Settle(stream.ToArray());
    }

    private static PdfFlow Lay(Paper paper)
    {
        PdfFlow flow = new();
        int figures = 0;
        PaperTone before = PaperTone.Plain;
        for (int i = 0; i < paper.Blocks.Length; i++)
        {
            PaperBlock block = paper.Blocks[i];
            PaperTone tone = ToneOf(block);
            if (IsBox(before) != IsBox(tone) || (IsBox(tone) && tone != before))
                flow.Space(7);
            before = tone;
            switch (block)
            {
                case PaperHeading heading:
                    PdfParagraph.Heading(flow, heading, i + 1 < paper.Blocks.Length ? BeginningOf(paper.Blocks[i + 1]) : 0);
                    break;
                case PaperParagraph paragraph:
                    PdfParagraph.Paragraph(flow, paragraph.Runs, paragraph.Tone);
                    break;
                case PaperList list:
                    PdfParagraph.List(flow, list);
                    break;
                case PaperContents contents:
                    PdfParagraph.Contents(flow, contents);
                    break;
                case PaperTable table:
                    PdfTable.Set(flow, table);
                    break;
                case PaperPicture picture:
                    SetPicture(flow, picture.Figure, ++figures);
                    break;
            }
        }
        return flow;
    }

    /// <summary>A figure at its size; one that is taller than a page is made smaller as a whole.</summary>
    private static void SetPicture(PdfFlow flow, Figure figure, int number)
    {
        float scale = ScaleOf(figure), width = figure.Width * scale, height = figure.Height * scale;
        flow.Space(10);
        flow.Room(height + CaptionRoom);
        float top = flow.Y;
        flow.Draw(pen => pen.Picture(figure.Pdf, figure.AlternativeText, PdfFlow.Left, top, width, height));
        flow.Y += height + 4;
        PdfParagraph.Paragraph(flow, [new PaperRun($"Figure {number}. {figure.Title}. ", Bold: true), new PaperRun(figure.Caption)], PaperTone.Quiet);
        flow.Space(6);
    }

    private static float ScaleOf(Figure figure)
        => Math.Min(1, Math.Min(PdfFlow.Width / figure.Width, (PdfFlow.Bottom - PdfFlow.Top - CaptionRoom - HeadingRoom) / figure.Height));

    /// <summary>How much of a block must stand on the page of the heading above it.</summary>
    private static float BeginningOf(PaperBlock block) => block switch
    {
        PaperPicture picture => picture.Figure.Height * ScaleOf(picture.Figure) + CaptionRoom,
        PaperTable => 90,
        PaperHeading => 80,
        _ => 40,
    };

    private static PaperTone ToneOf(PaperBlock block) => block switch
    {
        PaperParagraph paragraph => paragraph.Tone,
        PaperList list => list.Tone,
        _ => PaperTone.Plain,
    };

    private static bool IsBox(PaperTone tone) => tone is PaperTone.Box or PaperTone.Care or PaperTone.Stop;
}
