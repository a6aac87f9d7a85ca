namespace RotationStudy.Study.Workbooks;

/// <summary>A sheet of a workbook: a header that stays in sight, rows of text, and what may be entered where.</summary>
/// <param name="Name">Name of the sheet, at most 31 letters.</param>
/// <param name="Header">Names of the columns.</param>
/// <param name="Widths">Widths of the columns, in letters.</param>
/// <param name="Rows">Rows; every cell is text and none a formula.</param>
internal sealed record WorkbookSheet(string Name, IReadOnlyList<string> Header, IReadOnlyList<double> Widths, IReadOnlyList<string[]> Rows)
{
    /// <summary>What may be entered below the header, by position of the column.</summary>
    internal IReadOnlyList<(int Column, EntryRule Rule)> Entries { get; init; } = [];

    /// <summary>Positions of the columns whose entries stay text, so that 007 does not become 7.</summary>
    internal IReadOnlyList<int> TextColumns { get; init; } = [];

    /// <summary>Explanations that appear over a name of the header, by position of the column.</summary>
    internal IReadOnlyList<(int Column, string Text)> Notes { get; init; } = [];
}

/// <summary>What may be entered into the cells of a column.</summary>
/// <param name="Title">Title of the hint.</param>
/// <param name="Hint">Shown when a cell is chosen.</param>
/// <param name="Choices">Choices of a drop-down; empty for none.</param>
/// <param name="Lowest">Lowest number; null where no number is asked for.</param>
/// <param name="Highest">Highest number.</param>
/// <param name="Whole">Whether numbers are whole.</param>
/// <param name="Strict">Whether anything else is refused, or only warned about.</param>
internal sealed record EntryRule(string Title, string Hint, IReadOnlyList<string> Choices, double? Lowest, double? Highest, bool Whole, bool Strict);
