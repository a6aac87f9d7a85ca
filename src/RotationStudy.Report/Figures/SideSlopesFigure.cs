using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>Both sides of each person, a slope from one to the other, and the mean of each with their difference.</summary>
internal static class SideSlopesFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        SidePairs? pairs = results.Values.Sides.FirstOrDefault(s => s.Figure == request.Id);
        if (pairs is null || pairs.First.IsEmpty)
            return FigureDrawing.Without(request, style, "Nobody has two sides that can be compared.");
        double[] all = [.. pairs.First, .. pairs.Second];
        float nameRoom = 0.36f * style.Width;
        PlotFrame frame = new(new AxisScale(-0.35, 1.35, []), AxisScale.Around(all.Min(), all.Max(), 6), "", pairs.Label)
        {
            Height = 240,
            Key = MarkKey.Of(new(KeySymbol.Line, 1, "rises"), new(KeySymbol.Line, 0, "falls or stays"), new(KeySymbol.Mark, FigureStyle.InkSeries, "mean")),
            Below = Math.Max(0, 2 * FigureTheme.TextSize * 1.3f - 18),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        plot.Axes.Bottom.IsVisible = false;
        double alpha = Math.Clamp(25.0 / pairs.First.Length, 0.15, 0.7);
        for (int i = 0; i < pairs.First.Length; i++)
        {
            int series = pairs.Second[i] > pairs.First[i] ? 1 : 0;
            plot.Curve([0, 1], [pairs.First[i], pairs.Second[i]], style.Series(series), 0.7f, FigureTheme.Pattern(series), alpha);
        }
        DrawMeans(page, area, pairs);
        foreach ((double at, string name) in new[] { (0.0, pairs.FirstName), (1.0, pairs.SecondName) })
        {
            page.Line(area.ToX(at), area.Area.Top, area.ToX(at), area.Area.Bottom, style.Rule, FigureTheme.GridWidth);
            page.WriteLines(Lettering.Wrap(name, FigureTheme.TextSize, Math.Min(nameRoom, area.Area.Width / 1.7f), 3), area.ToX(at), area.Area.Bottom + FigureTheme.TextSize + 4, anchor: TextAnchor.Middle);
        }
        return new FigureDrawing(page, Caption(results.Study, pairs), Words(results.Study, request, pairs), Data(pairs))
        {
            Method = "Mean difference within persons with its 95% interval (paired t).",
        };
    }

    private static void DrawMeans(FigurePage page, PlotArea area, SidePairs pairs)
    {
        float x0 = area.ToX(0), x1 = area.ToX(1), y0 = area.ToY(pairs.First.Average()), y1 = area.ToY(pairs.Second.Average());
        SKColor ink = page.Style.Ink;
        page.Line(x0, y0, x1, y1, ink, 2);
        page.Disc(x0, y0, 3.4f, ink);
        page.Disc(x1, y1, 3.4f, ink);
        page.Write(NumberFormat.Brief(Math.Round(pairs.First.Average(), 1)), x0 - 7, y0 + 3, anchor: TextAnchor.End, bold: true);
        page.Write(NumberFormat.Brief(Math.Round(pairs.Second.Average(), 1)), x1 + 7, y1 + 3, bold: true);
    }

    private static string Difference(SidePairs pairs)
        => pairs.Difference is { } d ? $"mean difference {FigureWords.WithInterval(d, 1)}{(pairs.Unit is { } unit ? " " + unit : "")}" : "too few for a mean difference";

    private static string Caption(StudyFacts study, SidePairs pairs)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        string people = small.Words(pairs.First.Length, study.ParticipantOne, study.ParticipantMany);
        string left = pairs.OneSideOnly > 0 ? $" Not drawn: {small.Text(pairs.OneSideOnly)} with one side measured" : "";
        left += pairs.NotCompared > 0 ? $"{(left.Length == 0 ? " Not drawn:" : ",")} {small.Text(pairs.NotCompared)} of whom both sides or neither are marked" : "";
        return $"{FigureWords.Sentence(people)}, a line each; {pairs.SecondName} minus {pairs.FirstName}: {Difference(pairs)} (95% interval).{left}{(left.Length > 0 ? "." : "")}";
    }

    private static string Words(StudyFacts study, FigureRequest request, SidePairs pairs)
    {
        int rising = pairs.First.Where((v, i) => pairs.Second[i] > v).Count();
        return $"{request.Title}. {pairs.Label}, a line from {pairs.FirstName} to {pairs.SecondName} for each of {NumberFormat.Count(pairs.First.Length, study.ParticipantOne, study.ParticipantMany)}: "
            + $"{NumberFormat.Count(rising)} rise. Means {NumberFormat.Brief(pairs.First.Average())} and {NumberFormat.Brief(pairs.Second.Average())}; {Difference(pairs)}.";
    }

    private static FlatTable Data(SidePairs pairs) => new(
        ["person", "first", "second"],
        [.. pairs.First.Select((v, i) => FlatRow.Of(i + 1, v, pairs.Second[i]))]);
}
