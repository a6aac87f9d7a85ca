using System.Collections.Immutable;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>What a use asks of a figure: paper, lettering at final size, colours.</summary>
/// <remarks>
/// A figure is laid out in layout points in which text is 8 and the smallest lettering 7 points. <paramref name="Scale"/> turns them into
/// points at final size: 1 in print; on a slide 18/7, so that nothing is under 18 points; on a poster 24/7. Line widths grow with it.
/// </remarks>
/// <param name="Name">Name, as a protocol writes it.</param>
/// <param name="Label">Name for readers.</param>
/// <param name="Scale">Points at final size per layout point.</param>
/// <param name="DotsPerInch">Resolution of its PNG.</param>
/// <param name="Dots">Width of its PNG in dots: whole dots, else the edge would be half painted.</param>
/// <param name="LeastDots">Height that the PNG has at least, in dots; 0 where the figure decides.</param>
/// <param name="Colours">Colours.</param>
internal sealed record FigureStyle(string Name, string Label, float Scale, int DotsPerInch, int Dots, int LeastDots, FigureColours Colours)
{
    /// <summary>Stands for the colour of text in place of a series.</summary>
    internal const int InkSeries = -1;

    /// <summary>Stands for the grey of bands in place of a series.</summary>
    internal const int QuietSeries = -2;

    private const float NarrowBelow = 300, NarrowPlot = 0.75f, LeastPlot = 48;

    /// <summary>All uses.</summary>
    internal static ImmutableArray<FigureStyle> All { get; } =
    [
        new("journal_single", "single column, 85 mm", 1, 300, 1004, 0, FigureColours.Light),
        new("journal_double", "double column, 170 mm", 1, 300, 2008, 0, FigureColours.Light),
        new("slide_light", "slide 16:9, light", 18f / 7, 144, 1920, 1080, FigureColours.Light),
        new("slide_dark", "slide 16:9, dark", 18f / 7, 144, 1920, 1080, FigureColours.Dark),
        new("poster", "poster, 600 mm", 24f / 7, 150, 3544, 0, FigureColours.Light),
    ];

    /// <summary>The use that the report shows.</summary>
    internal static FigureStyle Standard { get; } = All[1];

    /// <summary>The use of that name.</summary>
    /// <exception cref="ArgumentException">No use has that name.</exception>
    internal static FigureStyle Of(string name) => All.FirstOrDefault(s => s.Name == name)
        ?? throw new ArgumentException($"No use of a figure is called '{name}'. Uses are {string.Join(", ", All.Select(s => s.Name))}.", nameof(name));

    /// <summary>One dot of the PNG, in layout points.</summary>
    internal float Dot => 72f / DotsPerInch / Scale;

    internal float Width => Dots * Dot;

    internal float LeastHeight => LeastDots * Dot;

    /// <summary>Whether columns of words beside a plot would leave it no room.</summary>
    internal bool IsNarrow => Width < NarrowBelow;

    /// <summary>Whether print asks for it: such a use has a TIFF.</summary>
    internal bool IsPrint => Scale == 1;

    internal SKColor Ink => Colours.Ink;

    internal SKColor QuietInk => Colours.QuietInk;

    internal SKColor Rule => Colours.Rule;

    internal SKColor Grid => Colours.Grid;

    internal SKColor BoxFill => Colours.BoxFill;

    internal SKColor Paper => Colours.Paper;

    internal SKColor Series(int index) => index switch
    {
        InkSeries => Ink,
        QuietSeries => QuietInk.WithAlpha(60),
        _ => Colours.Series[index % Colours.Series.Length],
    };

    /// <summary>Height of a plot: what is wanted in print, what a slide has left beside the rest.</summary>
    internal float PlotHeight(float wanted, float rest)
        => LeastDots > 0 ? Math.Max(LeastPlot, LeastHeight - rest) : IsNarrow ? wanted * NarrowPlot : wanted;
}

/// <summary>Colours on one kind of paper.</summary>
/// <remarks>
/// The five series differ in lightness (10 or more in CIELAB, so they survive a grey copier), in hue (20 or more for protanopia,
/// deuteranopia and tritanopia) and in line style or marker shape, so that none rests on colour alone; a test measures it. Lines have
/// a contrast of at least 3 to 1 against the paper, text at least 7 to 1.
/// </remarks>
/// <param name="Paper">Ground.</param>
/// <param name="Ink">Text.</param>
/// <param name="QuietInk">Text of second rank.</param>
/// <param name="Rule">Axes and edges.</param>
/// <param name="Grid">Lines of the grid.</param>
/// <param name="BoxFill">Inside of boxes.</param>
/// <param name="Series">Lines and marks of groups.</param>
internal sealed record FigureColours(
    SKColor Paper, SKColor Ink, SKColor QuietInk, SKColor Rule, SKColor Grid, SKColor BoxFill, ImmutableArray<SKColor> Series)
{
    /// <summary>On white.</summary>
    internal static FigureColours Light { get; } = new(
        SKColors.White, new(0x1e, 0x24, 0x2b), new(0x4a, 0x52, 0x5c), new(0x80, 0x87, 0x90), new(0xe3, 0xe6, 0xe9), new(0xf4, 0xf6, 0xf8),
        [new(0x25, 0x45, 0x5f), new(0x88, 0x4b, 0x2b), new(0x15, 0x86, 0x70), new(0x3a, 0x06, 0x77), new(0xc1, 0x89, 0x13)]);

    /// <summary>On near black, for a dark room.</summary>
    internal static FigureColours Dark { get; } = new(
        new(0x12, 0x18, 0x20), new(0xf2, 0xf4, 0xf6), new(0xc3, 0xca, 0xd2), new(0x8d, 0x97, 0xa3), new(0x2c, 0x35, 0x40), new(0x1d, 0x26, 0x31),
        [new(0x8a, 0xad, 0xc6), new(0xd8, 0x63, 0x46), new(0xb2, 0xff, 0xfb), new(0x8e, 0x31, 0xdf), new(0xe3, 0xc8, 0x9f)]);
}
