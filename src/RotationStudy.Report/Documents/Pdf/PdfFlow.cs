using PdfSharp.UniversalAccessibility;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>Pages being filled from top to bottom: notes where each mark goes; <see cref="PdfPen"/> draws them when all page numbers are known.</summary>
internal sealed class PdfFlow
{
    /// <summary>A4, and the area that is filled, in points from the top left.</summary>
    internal const float PageWidth = 595.28f, PageHeight = 841.89f, Left = 46, Right = PageWidth - 46, Top = 48, Bottom = PageHeight - 62;

    internal const float Width = Right - Left;

    private readonly List<Action<PdfPen>> _marks = [pen => pen.NextPage()];
    private readonly Dictionary<string, PdfPlace> _anchors = new(StringComparer.Ordinal);

    /// <summary>Where the next block begins.</summary>
    internal float Y { get; set; } = Top;

    /// <summary>Pages begun.</summary>
    internal int Pages { get; private set; } = 1;

    /// <summary>What is to be drawn, in the order of reading.</summary>
    internal IReadOnlyList<Action<PdfPen>> Marks => _marks;

    /// <summary>Where an anchor lies; null for one that does not exist.</summary>
    internal PdfPlace? PlaceOf(string anchor) => _anchors.TryGetValue(anchor, out PdfPlace place) ? place : null;

    internal void Note(string anchor) => _anchors.TryAdd(anchor, new PdfPlace(Pages, Y));

    internal void NextPage()
    {
        _marks.Add(pen => pen.NextPage());
        Pages++;
        Y = Top;
    }

    /// <summary>Makes sure that so much fits on this page, or begins another.</summary>
    internal void Room(float height)
    {
        if (Y + height > Bottom && Y > Top)
            NextPage();
    }

    /// <summary>Room between blocks; none at the top of a page.</summary>
    internal void Space(float height) => Y = Y <= Top ? Top : Y + height;

    /// <summary>Marks that belong to one structure element.</summary>
    internal void Tagged(PdfBlockLevelElementTag tag, Action content)
    {
        _marks.Add(pen => pen.Begin(tag));
        content();
        _marks.Add(pen => pen.End());
    }

    internal void Draw(Action<PdfPen> mark) => _marks.Add(mark);
}

/// <summary>A place in the document.</summary>
/// <param name="Page">Page, from 1.</param>
/// <param name="Y">Points from the top.</param>
internal readonly record struct PdfPlace(int Page, float Y);
