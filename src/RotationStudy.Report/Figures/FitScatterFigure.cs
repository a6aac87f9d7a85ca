using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Outcome against one exposure: a point per row, by side, with the adjusted mean and its band, and the spread of both in the margins.</summary>
/// <remarks>Points are not jittered: they lie where the data say. Ties darken, since points let light through.</remarks>
internal static class FitScatterFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        FitScatter? scatter = question?.Scatters.FirstOrDefault(s => request.Exposure is null || s.Exposure == request.Exposure);
        if (question is null || scatter is null || scatter.X.IsEmpty)
            return FigureDrawing.Without(request, style, question is null || question.Answered ? "There are no points to draw." : question.Answer);

        ImmutableArray<string> sides = SideNames(results.Study, scatter);
        PlotFrame frame = new(XAxis(scatter, request), YAxis(scatter), scatter.XLabel, scatter.YLabel)
        {
            Height = 250,
            Above = MarginBars.Room,
            Right = MarginBars.Room,
            Key = new MarkKey([
                .. sides.Select((s, i) => new KeyEntry(KeySymbol.Mark, i, s)),
                .. scatter.LineX.Length < 2 ? [] : ImmutableArray.Create(new KeyEntry(KeySymbol.Band, FigureStyle.InkSeries, "adjusted mean with 95% band")),
            ]),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        plot.Band(scatter.LineX, scatter.BandLower, scatter.BandUpper, style.QuietInk, 0.2);
        AddPoints(plot, scatter, style, sides.Length);
        plot.Curve(scatter.LineX, scatter.LineY, style.Ink);
        MarginBars.Above(page, area, scatter.X);
        MarginBars.Right(page, area, scatter.Y);
        return new FigureDrawing(page, Caption(results.Study, question, scatter) + Outside(request, scatter), Words(results.Study, request, question, scatter), Data(scatter))
        {
            Method = question.Model,
        };
    }

    private static AxisScale XAxis(FitScatter s, FigureRequest request) => request.Across is [double from, double to]
        ? AxisScale.Between(from, to, 7)
        : AxisScale.Around(s.X.Concat(s.LineX).Min(), s.X.Concat(s.LineX).Max(), 7);

    private static AxisScale YAxis(FitScatter s) => AxisScale.Around(s.Y.Concat(s.BandLower).Min(), s.Y.Concat(s.BandUpper).Max(), 6);

    private static ImmutableArray<string> SideNames(StudyFacts study, FitScatter s)
        => s.Side.IsEmpty || study.UnitMany is null ? [] : [$"left {study.UnitMany}", $"right {study.UnitMany}"];

    private static void AddPoints(ScottPlot.Plot plot, FitScatter s, FigureStyle style, int sides)
    {
        for (int side = 0; side < Math.Max(1, sides); side++)
        {
            int wanted = side;
            int[] rows = [.. Enumerable.Range(0, s.X.Length).Where(i => sides == 0 || s.Side[i] == wanted)];
            SeriesMark.Add(plot, side, style.Series(side), [.. rows.Select(i => s.X[i])], [.. rows.Select(i => s.Y[i])], s.X.Length, 0.55);
        }
    }

    private static string Caption(StudyFacts study, QuestionResult question, FitScatter s)
        => $"{FigureWords.Points(study, s.X.Length)}; {FigureWords.People(study, question.Counts)}. "
            + "Line: mean at the average of the other terms, with its 95% band. Bars in the margins: how the points are spread along each axis.";

    private static string Outside(FigureRequest request, FitScatter s)
        => request.Across is [double from, double to] && s.X.Count(x => x < from || x > to) is int outside and > 0
            ? $" {NumberFormat.Count(outside, "point lies", "points lie")} outside the axis."
            : "";

    private static string Words(StudyFacts study, FigureRequest request, QuestionResult question, FitScatter s)
    {
        EstimateRow? slope = question.Estimates.FirstOrDefault(e => e.Term == s.Exposure && e.Role == "exposure");
        string trend = slope is null ? "" : $" {slope.Label}: {NumberFormat.Estimate(slope)} (95% interval {NumberFormat.Interval(slope)}).";
        string line = s.LineX.IsEmpty ? "" :
            $" The adjusted mean runs from {NumberFormat.Brief(s.LineY[0])} at {NumberFormat.Brief(s.LineX[0])} to {NumberFormat.Brief(s.LineY[^1])} at {NumberFormat.Brief(s.LineX[^1])}.";
        return $"{request.Title}. Scatter of {NumberFormat.Count(s.X.Length)} points: {s.YLabel} against {s.XLabel}, "
            + $"from {NumberFormat.Brief(s.X.Min())} to {NumberFormat.Brief(s.X.Max())} across and {NumberFormat.Brief(s.Y.Min())} to {NumberFormat.Brief(s.Y.Max())} up; "
            + $"{FigureWords.People(study, question.Counts)}.{line}{trend}";
    }

    private static FlatTable Data(FitScatter s) => new(
        ["kind", "side", "x", "y", "lower_95", "upper_95"],
        [
            .. s.LineX.Select((x, i) => ImmutableArray.Create<FlatCell>("line", "", x, s.LineY[i], s.BandLower[i], s.BandUpper[i])),
            .. s.X.Select((x, i) => ImmutableArray.Create<FlatCell>("point", s.Side.IsEmpty ? "" : s.Side[i] == 0 ? "left" : "right", x, s.Y[i], "", "")),
        ]);
}
