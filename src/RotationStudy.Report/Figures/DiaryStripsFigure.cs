using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Weeks of diaries: a strip per person, darker for more; a week that does not count is an empty cell with a dot.</summary>
/// <remarks>All measures of the figure have one order of persons, the longest diary first, so a row can be followed from block to block.</remarks>
internal static class DiaryStripsFigure
{
    private const float Strip = 5, HeadRoom = 26, BlockGap = 8, AxisRoom = 36, ScaleWidth = 60, LeftRoom = 14;
    private const int MostPersons = 30, FewestPersons = 4, Weakest = 22, Strongest = 235;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        ImmutableArray<DiaryStrips> all = [.. (results.Values.Diaries.FirstOrDefault(d => d.Figure == request.Id)?.Measures ?? []).Where(m => m.Strips.Any(s => s.Weeks.Any(w => w is not null)))];
        if (all.IsEmpty)
            return FigureDrawing.Without(request, style, "No diary has a week that counts.");
        int shown = Shown(style, FigureTitle.Height(request.Title, style.Width - 2 * FigureTheme.Margin), all);
        int weeks = all.Max(m => m.Strips.Take(shown).Max(s => s.FirstWeek + s.Weeks.Length - 1));
        float width = style.Width - 2 * FigureTheme.Margin, top = FigureTitle.Height(request.Title, width);
        float block = HeadRoom + shown * Strip + BlockGap;
        FigurePage page = new(style, top + all.Length * block + AxisRoom);
        FigureTitle.Write(page, request.Title, width);
        AxisScale x = AxisScale.Between(0.5, weeks + 0.5, 8);
        x = x.WholeNumbers();
        for (int m = 0; m < all.Length; m++)
        {
            PlotArea area = new(new SKRect(FigureTheme.Margin + LeftRoom, top + m * block + HeadRoom, style.Width - FigureTheme.Margin - 4, top + m * block + HeadRoom + shown * Strip), x, new AxisScale(0, shown, []));
            DrawBlock(page, area, all[m], shown);
            if (m == all.Length - 1)
                WriteAxis(page, area, x);
        }
        return new FigureDrawing(page, Caption(results.Study, all, shown), Words(results.Study, request, all), Data(all)) { Method = "Weekly values as the protocol defines them; nothing was estimated." };
    }

    /// <summary>How many persons are drawn: a slide has room for fewer.</summary>
    private static int Shown(FigureStyle style, float top, ImmutableArray<DiaryStrips> all)
    {
        float room = (style.LeastHeight - top - AxisRoom) / all.Length - HeadRoom - BlockGap;
        int most = style.LeastDots > 0 ? Math.Clamp((int)(room / Strip), FewestPersons, MostPersons) : MostPersons;
        return Math.Min(most, all[0].Strips.Length);
    }

    private static void DrawBlock(FigurePage page, PlotArea area, DiaryStrips measure, int shown)
    {
        double[] values = [.. measure.Strips.SelectMany(s => s.Weeks).OfType<double>()];
        double low = values.Min(), high = values.Max();
        SKColor Shade(double v) => page.Style.Series(0).WithAlpha((byte)Math.Round(Weakest + (Strongest - Weakest) * (high > low ? (v - low) / (high - low) : 1)));
        WriteHead(page, area, measure.Label, low, high, Shade);
        for (int person = 0; person < shown; person++)
        {
            DiaryStrip strip = measure.Strips[person];
            float y = area.Area.Top + person * Strip;
            for (int w = 0; w < strip.Weeks.Length; w++)
            {
                float left = area.ToX(strip.FirstWeek + w - 0.5), right = area.ToX(strip.FirstWeek + w + 0.5);
                if (strip.Weeks[w] is { } value)
                    page.Box(new SKRect(left + 0.2f, y + 0.4f, right - 0.2f, y + Strip - 0.4f), Shade(value));
                else
                    page.Disc((left + right) / 2, y + Strip / 2, 0.8f, page.Style.Rule);
            }
        }
    }

    /// <summary>The measure, and what light and dark mean.</summary>
    private static void WriteHead(FigurePage page, PlotArea area, string label, double low, double high, Func<double, SKColor> shade)
    {
        const int steps = 12;
        float right = area.Area.Right, y = area.Area.Top - 6;
        string least = NumberFormat.Brief(Math.Round(low, 1)), most = NumberFormat.Brief(Math.Round(high, 1));
        float scaleRight = right - Lettering.Width(most, FigureTheme.SmallSize) - 3, scaleLeft = scaleRight - ScaleWidth;
        page.Write(most, right, y, FigureTheme.SmallSize, TextAnchor.End);
        page.Write(least, scaleLeft - 3, y, FigureTheme.SmallSize, TextAnchor.End);
        for (int i = 0; i < steps; i++)
            page.Box(new SKRect(scaleLeft + i * ScaleWidth / steps, y - 6, scaleLeft + (i + 1) * ScaleWidth / steps, y), shade(low + (high - low) * i / (steps - 1)));
        float room = scaleLeft - 10 - Lettering.Width(least, FigureTheme.SmallSize) - FigureTheme.Margin;
        ImmutableArray<string> lines = Lettering.Wrap(label, FigureTheme.TextSize, room, 2, bold: true);
        page.WriteLines(lines, FigureTheme.Margin, y - (lines.Length - 1) * FigureTheme.TextSize * FigureTheme.LineHeight, bold: true);
    }

    private static void WriteAxis(FigurePage page, PlotArea area, AxisScale x)
    {
        page.Line(area.Area.Left, area.Area.Bottom + 2, area.Area.Right, area.Area.Bottom + 2);
        foreach (AxisTick tick in x.Ticks)
            page.Line(area.ToX(tick.At), area.Area.Bottom + 2, area.ToX(tick.At), area.Area.Bottom + 2 + FigureTheme.TickLength);
        (area with { Area = new SKRect(area.Area.Left, area.Area.Top, area.Area.Right, area.Area.Bottom + 2) }).LetterX(page);
        page.Write("Week of the diary", area.Area.MidX, area.Area.Bottom + 30, anchor: TextAnchor.Middle);
    }

    private static string Caption(StudyFacts study, ImmutableArray<DiaryStrips> all, int shown)
    {
        int people = all[0].Strips.Length, weeks = all[0].Strips.Sum(s => s.Weeks.Length);
        string part = shown < people ? $"The {NumberFormat.Count(shown)} longest of {NumberFormat.Count(people)} diaries" : NumberFormat.Count(people, "diary", "diaries");
        return $"{part}, one row per {study.ParticipantOne}, the same order in each block; {NumberFormat.Count(weeks)} weeks in all diaries. Darker: more; a dot: a week that does not count.";
    }

    private static string Words(StudyFacts study, FigureRequest request, ImmutableArray<DiaryStrips> all)
        => $"{request.Title}. Weeks of {NumberFormat.Count(all[0].Strips.Length, study.ParticipantOne, study.ParticipantMany)} as rows of shaded cells. "
            + string.Join(" ", all.Select(m =>
            {
                double[] values = [.. m.Strips.SelectMany(s => s.Weeks).OfType<double>()];
                return $"{m.Label}: {NumberFormat.Count(values.Length)} weeks that count, from {NumberFormat.Brief(values.Min())} to {NumberFormat.Brief(values.Max())}, mean {NumberFormat.Brief(Math.Round(values.Average(), 1))}.";
            }));

    private static FlatTable Data(ImmutableArray<DiaryStrips> all) => new(
        ["measure", "person", "week", "value"],
        [.. all.SelectMany(m => m.Strips.SelectMany((s, p) => s.Weeks.Select((w, i) => FlatRow.Of(m.Label, p + 1, s.FirstWeek + i, w))))]);
}
