using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A figure being laid out: plots, then lines and boxes, then lettering, all in points from the top left.</summary>
/// <remarks>
/// ScottPlot draws what has coordinates (axes, points, lines, bands); every letter is set here. So a test can measure each
/// label for overlap and clipping, and the SVG holds whole lines of real text in place of single glyphs.
/// </remarks>
internal sealed class FigurePage(FigureStyle style, float height)
{
    private readonly List<Action<SKCanvas>> _shapes = [];
    private readonly List<FigureText> _texts = [];
    private readonly List<ScottPlot.Plot> _plots = [];

    internal FigureStyle Style { get; } = style;

    internal float Width { get; } = style.Width;

    internal float Height { get; } = MathF.Ceiling(Math.Max(height, style.LeastHeight) / style.Dot - 0.001f) * style.Dot;

    /// <summary>Plots, each with its own rectangle of the page.</summary>
    internal IReadOnlyList<ScottPlot.Plot> Plots => _plots;

    internal IReadOnlyList<FigureText> Texts => _texts;

    internal void Add(ScottPlot.Plot plot)
    {
        if (_plots.Count > 0)
        {
            plot.FigureBackground.Color = ScottPlot.Colors.Transparent;
            plot.RenderManager.ClearCanvasBeforeEachRender = false;
        }
        _plots.Add(plot);
    }

    /// <summary>Sets one line of lettering.</summary>
    internal FigureText Write(
        string text, float x, float y, float size = FigureTheme.TextSize, TextAnchor anchor = TextAnchor.Start,
        SKColor? color = null, bool bold = false, bool upward = false)
    {
        FigureText line = new(VisibleText.Of(text), x, y, size, anchor, color ?? Style.Ink, bold, upward);
        _texts.Add(line);
        return line;
    }

    /// <summary>Sets several lines below each other and returns the base line after the last.</summary>
    internal float WriteLines(
        IEnumerable<string> lines, float x, float y, float size = FigureTheme.TextSize, TextAnchor anchor = TextAnchor.Start,
        SKColor? color = null, bool bold = false)
    {
        foreach (string line in lines)
        {
            Write(line, x, y, size, anchor, color, bold);
            y += size * FigureTheme.LineHeight;
        }
        return y;
    }

    internal void Line(float x1, float y1, float x2, float y2, SKColor? color = null, float width = FigureTheme.AxisWidth, params float[] dashes)
        => _shapes.Add(canvas =>
        {
            using SKPaint paint = Stroke(color ?? Style.Rule, width);
            using SKPathEffect? effect = dashes.Length > 0 ? SKPathEffect.CreateDash(dashes, 0) : null;
            paint.PathEffect = effect;
            canvas.DrawLine(x1, y1, x2, y2, paint);
        });

    internal void Box(SKRect rect, SKColor? fill = null, SKColor? edge = null)
        => _shapes.Add(canvas =>
        {
            if (fill is { } inside)
            {
                using SKPaint paint = Fill(inside);
                canvas.DrawRect(rect, paint);
            }
            if (edge is { } outline)
            {
                using SKPaint paint = Stroke(outline, FigureTheme.AxisWidth);
                canvas.DrawRect(rect, paint);
            }
        });

    /// <summary>A line that ends in a filled head.</summary>
    internal void Arrow(float x1, float y1, float x2, float y2, SKColor? color = null, float width = FigureTheme.AxisWidth, float head = 5f)
    {
        SKColor ink = color ?? Style.Rule;
        float length = MathF.Sqrt((x2 - x1) * (x2 - x1) + (y2 - y1) * (y2 - y1));
        float dx = (x2 - x1) / length, dy = (y2 - y1) / length;
        float baseX = x2 - head * dx, baseY = y2 - head * dy, half = 0.4f * head;
        Line(x1, y1, baseX, baseY, ink, width);
        Polygon(ink, new(x2, y2), new(baseX - half * dy, baseY + half * dx), new(baseX + half * dy, baseY - half * dx));
    }

    internal void Polygon(SKColor fill, params SKPoint[] corners)
        => _shapes.Add(canvas =>
        {
            using SKPaint paint = Fill(fill);
            using SKPath path = new();
            path.AddPoly(corners, close: true);
            canvas.DrawPath(path, paint);
        });

    internal void Disc(float x, float y, float radius, SKColor fill)
        => _shapes.Add(canvas =>
        {
            using SKPaint paint = Fill(fill);
            canvas.DrawCircle(x, y, radius, paint);
        });

    internal void Ring(float x, float y, float radius, SKColor color, float width)
        => _shapes.Add(canvas =>
        {
            using SKPaint paint = Stroke(color, width);
            canvas.DrawCircle(x, y, radius, paint);
        });

    internal void Outline(SKColor color, float width, params SKPoint[] corners)
        => _shapes.Add(canvas =>
        {
            using SKPaint paint = Stroke(color, width);
            using SKPath path = new();
            path.AddPoly(corners, close: true);
            canvas.DrawPath(path, paint);
        });

    /// <summary>Draws everything but the lettering.</summary>
    internal void DrawMarks(SKCanvas canvas)
    {
        // ScottPlot clears the canvas when it begins, so the first plot comes first; the others leave the canvas as it is.
        foreach (ScottPlot.Plot plot in _plots)
            plot.Render(canvas, new ScottPlot.PixelRect(0, Width, Height, 0));
        foreach (Action<SKCanvas> shape in _shapes)
            shape(canvas);
    }

    /// <summary>Draws the lettering.</summary>
    internal void DrawTexts(SKCanvas canvas)
    {
        foreach (FigureText text in _texts)
        {
            using SKFont font = Lettering.Font(text.Size, text.Bold);
            using SKPaint paint = Fill(text.Color);
            SKTextAlign align = text.Anchor switch { TextAnchor.Start => SKTextAlign.Left, TextAnchor.Middle => SKTextAlign.Center, _ => SKTextAlign.Right };
            canvas.Save();
            canvas.Translate(text.X, text.Y);
            if (text.Upward)
                canvas.RotateDegrees(-90);
            canvas.DrawText(text.Text, 0, 0, align, font, paint);
            canvas.Restore();
        }
    }

    private static SKPaint Stroke(SKColor color, float width)
        => new() { Color = color, StrokeWidth = width, Style = SKPaintStyle.Stroke, IsAntialias = true };

    private static SKPaint Fill(SKColor color) => new() { Color = color, Style = SKPaintStyle.Fill, IsAntialias = true };
}
