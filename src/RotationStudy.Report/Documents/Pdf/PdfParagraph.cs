using System.Collections.Immutable;
using PdfSharp.UniversalAccessibility;
using RotationStudy.Report.Figures;
using SkiaSharp;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>Sets headings, paragraphs and lists.</summary>
internal static class PdfParagraph
{
    private const float Body = 9.5f, Step = 1.42f, ListIndent = 14, BoxPad = 9, ExplanationIndent = 12;

    internal static void Heading(PdfFlow flow, PaperHeading heading, float keep)
    {
        float size = heading.Level switch { 1 => 20, 2 => 14.5f, 3 => 11.5f, _ => 10 };
        ImmutableArray<ImmutableArray<PdfPiece>> lines = PdfWords.Break([new PaperRun(heading.Text)], size, PdfFlow.Width, allBold: true);
        flow.Space(heading.Level switch { 1 => 0, 2 => 24, 3 => 14, _ => 10 });
        flow.Room(lines.Length * size * 1.25f + 10 + keep);
        if (heading.Level == 2 && flow.Y > PdfFlow.Top)
        {
            float rule = flow.Y - 8;
            flow.Draw(pen => pen.Rule(PdfFlow.Left, rule, PdfFlow.Right, rule, 1.2f, PdfInk.Ink));
        }
        if (heading.Anchor is { } anchor)
            flow.Note(anchor);
        if (heading.Level is 2 or 3)
        {
            float top = flow.Y - 6;
            flow.Draw(pen => pen.Bookmark(heading.Level, heading.Text, top));
        }
        flow.Tagged(TagOf(heading.Level), () =>
        {
            foreach (ImmutableArray<PdfPiece> line in lines)
                Line(flow, line, PdfFlow.Left, size, 1.25f);
        });
        flow.Y += heading.Level <= 2 ? 4 : 2;
    }

    internal static void Paragraph(PdfFlow flow, ImmutableArray<PaperRun> runs, PaperTone tone)
    {
        (float size, SKColor ink, bool bold) = Look(tone);
        bool box = tone is PaperTone.Box or PaperTone.Care or PaperTone.Stop;
        float indent = box ? BoxPad : tone == PaperTone.Explanation ? ExplanationIndent : 0;
        ImmutableArray<ImmutableArray<PdfPiece>> lines = PdfWords.Break(runs, size, PdfFlow.Width - indent - (box ? BoxPad : 0), bold);
        if (box)
            BoxRoom(flow, tone, lines.Length * size * Step + 5);
        else
            flow.Room(Math.Min(lines.Length, tone == PaperTone.Term ? 3 : 2) * size * Step);
        flow.Tagged(PdfBlockLevelElementTag.Paragraph, () => Lines(flow, lines, PdfFlow.Left + indent, size, ink));
        flow.Y += box || tone == PaperTone.Term ? 0 : 4;
    }

    internal static void List(PdfFlow flow, PaperList list)
    {
        (float size, SKColor ink, bool bold) = Look(list.Tone);
        bool box = list.Tone is PaperTone.Box or PaperTone.Care or PaperTone.Stop;
        float left = PdfFlow.Left + (box ? BoxPad : 0);
        ImmutableArray<ImmutableArray<ImmutableArray<PdfPiece>>> items =
            [.. list.Items.Select(i => PdfWords.Break(i, size, PdfFlow.Right - left - ListIndent - (box ? BoxPad : 0), bold))];
        if (box)
            BoxRoom(flow, list.Tone, items.Sum(i => i.Length) * size * Step + 5);
        flow.Tagged(PdfBlockLevelElementTag.List, () =>
        {
            for (int i = 0; i < items.Length; i++)
            {
                string label = list.Ordered ? $"{NumberFormat.Count(i + 1)}." : "\u2022";
                flow.Room(Math.Min(items[i].Length, 2) * size * Step);
                flow.Tagged(PdfBlockLevelElementTag.ListItem, () => Item(flow, items[i], label, left, size, ink));
            }
        });
        flow.Y += box ? 0 : 4;
    }

    internal static void Contents(PdfFlow flow, PaperContents contents)
    {
        foreach ((string anchor, string title) in contents.Entries)
        {
            flow.Room(Body * Step);
            float y = flow.Y + Body;
            flow.Tagged(PdfBlockLevelElementTag.Paragraph, () => flow.Draw(pen =>
            {
                if (flow.PlaceOf(anchor) is not { } place)
                {
                    pen.Text(title, PdfFlow.Left, y, Body);
                    return;
                }
                pen.Link(title, PdfFlow.Left, y, Body, false, place);
                string page = NumberFormat.Count(place.Page);
                pen.Text(page, PdfFlow.Right - Lettering.Width(page, Body), y, Body, false, PdfInk.Quiet);
            }));
            flow.Y += Body * Step;
        }
        flow.Y += 6;
    }

    internal static void Line(PdfFlow flow, ImmutableArray<PdfPiece> line, float left, float size, float step, SKColor? ink = null)
    {
        float y = flow.Y + size;
        foreach (PdfPiece piece in line)
        {
            flow.Draw(pen =>
            {
                if (piece.Anchor is { } anchor && flow.PlaceOf(anchor) is { } place)
                    pen.Link(piece.Text, left + piece.X, y, size, piece.Bold, place);
                else
                    pen.Text(piece.Text, left + piece.X, y, size, piece.Bold, ink);
            });
        }
        flow.Y += size * step;
    }

    private static void Lines(PdfFlow flow, ImmutableArray<ImmutableArray<PdfPiece>> lines, float left, float size, SKColor ink)
    {
        foreach (ImmutableArray<PdfPiece> line in lines)
        {
            flow.Room(size * Step);
            Line(flow, line, left, size, Step, ink);
        }
    }

    private static void Item(PdfFlow flow, ImmutableArray<ImmutableArray<PdfPiece>> lines, string label, float left, float size, SKColor ink)
    {
        float y = flow.Y + size;
        flow.Tagged(PdfBlockLevelElementTag.Label, () => flow.Draw(pen => pen.Text(label, left, y, size, false, ink)));
        flow.Tagged(PdfBlockLevelElementTag.ListBody, () => Lines(flow, lines, left + ListIndent, size, ink));
    }

    /// <summary>Ground and rule of a box, which joins with a box above; what is taller than a page has none.</summary>
    private static void BoxRoom(PdfFlow flow, PaperTone tone, float height)
    {
        if (height > PdfFlow.Bottom - PdfFlow.Top)
            return;
        flow.Room(height);
        float y = flow.Y - 1;
        (SKColor ground, SKColor rule) = tone switch
        {
            PaperTone.Care => (PdfInk.Care, PdfInk.CareRule),
            PaperTone.Stop => (PdfInk.Stop, PdfInk.StopRule),
            _ => (PdfInk.Box, PdfInk.Rule),
        };
        flow.Draw(pen => pen.Fill(PdfFlow.Left, y, PdfFlow.Width, height, ground));
        flow.Draw(pen => pen.Fill(PdfFlow.Left, y, 2.5f, height, rule));
        flow.Y += 2;
    }

    private static (float Size, SKColor Ink, bool Bold) Look(PaperTone tone) => tone switch
    {
        PaperTone.Lead => (11, PdfInk.Ink, false),
        PaperTone.Quiet => (8.5f, PdfInk.Quiet, false),
        PaperTone.Answer or PaperTone.Term => (Body, PdfInk.Ink, true),
        _ => (Body, PdfInk.Ink, false),
    };

    private static PdfBlockLevelElementTag TagOf(int level) => level switch
    {
        1 => PdfBlockLevelElementTag.Heading1,
        2 => PdfBlockLevelElementTag.Heading2,
        3 => PdfBlockLevelElementTag.Heading3,
        _ => PdfBlockLevelElementTag.Heading4,
    };
}
