using System.Collections.Immutable;
using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents;

/// <summary>The report as blocks below each other: what PDF and DOCX are set from.</summary>
/// <param name="Title">Title.</param>
/// <param name="Blocks">Blocks in order.</param>
internal sealed record Paper(string Title, ImmutableArray<PaperBlock> Blocks);

/// <summary>One block of a paper.</summary>
internal abstract record PaperBlock;

/// <summary>A heading.</summary>
/// <param name="Level">1 for the title, 2 for a section, and below.</param>
/// <param name="Text">Words.</param>
/// <param name="Anchor">Name that links point to; null for none.</param>
internal sealed record PaperHeading(int Level, string Text, string? Anchor) : PaperBlock;

/// <summary>A paragraph.</summary>
/// <param name="Runs">Its pieces.</param>
/// <param name="Tone">How it is set.</param>
internal sealed record PaperParagraph(ImmutableArray<PaperRun> Runs, PaperTone Tone) : PaperBlock;

/// <summary>A list.</summary>
/// <param name="Items">Items.</param>
/// <param name="Ordered">Whether items are numbered.</param>
/// <param name="Tone">How it is set.</param>
internal sealed record PaperList(ImmutableArray<ImmutableArray<PaperRun>> Items, bool Ordered, PaperTone Tone) : PaperBlock;

/// <summary>A table.</summary>
/// <param name="Caption">Caption.</param>
/// <param name="Columns">Columns.</param>
/// <param name="Rows">Rows, sums last where there are any.</param>
/// <param name="HasTotals">Whether the last row holds sums.</param>
internal sealed record PaperTable(string Caption, ImmutableArray<PaperColumn> Columns, ImmutableArray<PaperRow> Rows, bool HasTotals) : PaperBlock;

/// <summary>A figure with its caption.</summary>
/// <param name="Figure">The figure.</param>
internal sealed record PaperPicture(Figure Figure) : PaperBlock;

/// <summary>The list of sections.</summary>
/// <param name="Entries">Anchor and title of each.</param>
internal sealed record PaperContents(ImmutableArray<(string Anchor, string Title)> Entries) : PaperBlock;

/// <summary>A piece of a paragraph.</summary>
/// <param name="Text">Words.</param>
/// <param name="Bold">Whether bold.</param>
/// <param name="Anchor">Where it leads within the paper; null for nowhere.</param>
internal readonly record struct PaperRun(string Text, bool Bold = false, string? Anchor = null);

/// <summary>A column.</summary>
/// <param name="Title">Heading.</param>
/// <param name="IsNumeric">Whether cells are set to the right.</param>
internal readonly record struct PaperColumn(string Title, bool IsNumeric);

/// <summary>A row.</summary>
/// <param name="Cells">Cells.</param>
/// <param name="Indent">Whether it lies a level below the row above.</param>
internal readonly record struct PaperRow(ImmutableArray<string> Cells, bool Indent);

/// <summary>How a paragraph or list is set.</summary>
internal enum PaperTone
{
    /// <summary>As it is.</summary>
    Plain,

    /// <summary>Larger, below the title.</summary>
    Lead,

    /// <summary>Smaller and in grey.</summary>
    Quiet,

    /// <summary>Bold: the answer.</summary>
    Answer,

    /// <summary>A word that is explained.</summary>
    Term,

    /// <summary>Its explanation.</summary>
    Explanation,

    /// <summary>In a box.</summary>
    Box,

    /// <summary>In a box that asks for care.</summary>
    Care,

    /// <summary>In a box that asks to stop.</summary>
    Stop,
}
