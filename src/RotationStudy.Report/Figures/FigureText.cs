using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Where the point of a text lies in its line.</summary>
internal enum TextAnchor
{
    Start,
    Middle,
    End,
}

/// <summary>One line of lettering in a figure, in points.</summary>
/// <param name="Text">What it says.</param>
/// <param name="X">Point of the anchor.</param>
/// <param name="Y">Base line.</param>
/// <param name="Size">Size in points.</param>
/// <param name="Anchor">Where the point lies in the line.</param>
/// <param name="Color">Colour.</param>
/// <param name="Bold">Whether bold.</param>
/// <param name="Upward">Whether the line runs upward, as beside a vertical axis.</param>
internal sealed record FigureText(string Text, float X, float Y, float Size, TextAnchor Anchor, SKColor Color, bool Bold, bool Upward)
{
    /// <summary>Length of the line.</summary>
    internal float Length { get; } = Lettering.Width(Text, Size, Bold);

    /// <summary>The box that the letters cover, for the layout test.</summary>
    internal SKRect Box
    {
        get
        {
            float start = Anchor switch { TextAnchor.Start => 0, TextAnchor.Middle => -Length / 2, _ => -Length };
            return Upward
                ? new SKRect(X - 0.75f * Size, Y - start - Length, X + 0.22f * Size, Y - start)
                : new SKRect(X + start, Y - 0.75f * Size, X + start + Length, Y + 0.22f * Size);
        }
    }
}
