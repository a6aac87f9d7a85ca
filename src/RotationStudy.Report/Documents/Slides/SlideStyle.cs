using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents.Slides;

/// <summary>Sizes of a slide of the deck, in points. Nothing on a slide is under <see cref="TextSize"/>, the smallest lettering that a room can read.</summary>
internal static class SlideStyle
{
    internal const float Width = 960, Height = 540, Left = 40, TextWidth = 880;
    internal const float TitleSize = 26, LongTitleSize = 20, TextSize = 18;
    internal const float FigureTop = 62, FigureHeight = 376;

    /// <summary>Share of a line that is filled: a machine without our typeface sets a wider one.</summary>
    internal const float Filled = 0.86f;

    /// <summary>Lines of caption and of footnote that stand on a slide; the rest stands in its notes.</summary>
    internal const int Lines = 2;

    private const int DotsPerInch = 144;

    /// <summary>How a figure is drawn for the deck: without its title, which the slide has as text, and as high as the slide leaves room.</summary>
    internal static FigureStyle Figure(bool dark) => new(
        "deck", "slide of a deck", TextSize / FigureTheme.SmallSize, DotsPerInch,
        (int)(TextWidth / 72 * DotsPerInch), (int)(FigureHeight / 72 * DotsPerInch), dark ? FigureColours.Dark : FigureColours.Light);
}
