using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>A quantity over age or time: single units faint, the mean of each group bold with its band, and a published norm where there is one.</summary>
internal static class GrowthLinesFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        if (question?.Growth is not { } growth || growth.Singles.IsEmpty)
            return FigureDrawing.Without(request, style, question is null || question.Answered ? "There are no lines to draw." : question.Answer);
        ImmutableArray<EventFreeCurve> ends = [.. growth.Means.Where(m => m.Group.Length > 0).Select(m =>
            new EventFreeCurve(m.Group, "", m.X, m.Mean, m.Lower, m.Upper, [], [], [], [], ""))];
        string unit = results.Study.UnitOne ?? results.Study.ParticipantOne;
        PlotFrame frame = new(XAxis(growth, request), YAxis(growth), growth.XLabel, growth.YLabel)
        {
            Height = 240,
            Right = CurveLabels.Room(ends, style),
            Key = MarkKey.Of(
                new(KeySymbol.Thin, 0, $"one {unit}"),
                new(KeySymbol.Band, FigureStyle.InkSeries, "mean with 95% band"),
                growth.Norm is null ? null : new KeyEntry(KeySymbol.EmptyBox, 0, "published norm")),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        if (growth.Norm is { } norm)
            AddNorm(page, plot, norm, area);
        double alpha = Math.Clamp(16.0 / growth.Singles.Length, 0.06, 0.45);
        foreach (SingleLine line in growth.Singles)
            AddSingle(plot, line, style, alpha);
        for (int group = 0; group < growth.Means.Length; group++)
            AddMean(plot, growth.Means[group], group, style);
        CurveLabels.Write(page, area, ends);
        return new FigureDrawing(page, Caption(results.Study, question, growth), Words(results.Study, request, question, growth), Data(growth))
        {
            Method = $"{growth.Method} {question.Model}{(growth.Norm is { } n ? $" Norm: {n.Source.TrimEnd('.')}." : "")}",
        };
    }

    private static AxisScale XAxis(GrowthLines growth, FigureRequest request) => request.Across is [double from, double to]
        ? AxisScale.Between(from, to, 7)
        : AxisScale.Around(growth.Singles.Min(s => s.X.Min()), growth.Singles.Max(s => s.X.Max()), 7);

    private static AxisScale YAxis(GrowthLines growth)
    {
        IEnumerable<double> all = [.. growth.Singles.SelectMany(s => s.Y), .. growth.Means.SelectMany(m => m.Lower.Concat(m.Upper)), .. growth.Norm?.Steps.SelectMany(s => new[] { s.Lower, s.Upper }) ?? []];
        return AxisScale.Around(all.Min(), all.Max(), 6);
    }

    private static void AddNorm(FigurePage page, ScottPlot.Plot plot, NormBand norm, PlotArea area)
    {
        foreach (NormStep step in norm.Steps)
        {
            double from = Math.Max(step.From, area.X.Min), to = Math.Min(step.To, area.X.Max);
            if (from >= to)
                continue;
            plot.Band([from, to], [step.Lower, step.Lower], [step.Upper, step.Upper], page.Style.QuietInk, 0.12);
            foreach (double edge in new[] { step.Lower, step.Upper })
                page.Line(area.ToX(from), area.ToY(edge), area.ToX(to), area.ToY(edge), page.Style.Rule, FigureTheme.AxisWidth);
            page.Line(area.ToX(from), area.ToY(step.Mean), area.ToX(to), area.ToY(step.Mean), page.Style.QuietInk, FigureTheme.AxisWidth, 1.5f, 2);
        }
    }

    private static void AddSingle(ScottPlot.Plot plot, SingleLine line, FigureStyle style, double alpha)
    {
        SKColor ink = style.Series(Math.Max(0, line.Group));
        if (line.X.Length == 1)
            SeriesMark.Add(plot, 0, ink, [.. line.X], [.. line.Y], 1, alpha);
        plot.Curve(line.X, line.Y, ink, 0.6f, alpha: alpha);
    }

    private static void AddMean(ScottPlot.Plot plot, MeanLine mean, int group, FigureStyle style)
    {
        plot.Band(mean.X, mean.Lower, mean.Upper, style.Series(group), 0.22);
        plot.Curve(mean.X, mean.Mean, style.Series(group), 2, FigureTheme.Pattern(group));
    }

    private static string Caption(StudyFacts study, QuestionResult question, GrowthLines growth)
    {
        int readings = growth.Singles.Sum(s => s.X.Length);
        return $"{FigureWords.PeopleSentence(study, question.Counts)} {NumberFormat.Count(readings, "reading", "readings")}. Faint: one line each; bold: mean with pointwise 95% band."
            + (growth.Norm is { } norm ? $" Grey: {norm.Label}." : "");
    }

    private static string Words(StudyFacts study, FigureRequest request, QuestionResult question, GrowthLines growth)
    {
        IEnumerable<string> means = growth.Means.Select(m =>
            $"{(m.Group.Length > 0 ? m.Group : "All")}: mean from {NumberFormat.Brief(m.Mean[0])} at {NumberFormat.Brief(m.X[0])} to {NumberFormat.Brief(m.Mean[^1])} at {NumberFormat.Brief(m.X[^1])}.");
        return $"{request.Title}. {growth.YLabel} over {growth.XLabel}, {NumberFormat.Count(growth.Singles.Length)} single lines; {FigureWords.People(study, question.Counts)}. {string.Join(" ", means)}";
    }

    private static FlatTable Data(GrowthLines growth) => new(
        ["kind", "line", "group", "x", "y", "lower", "upper"],
        [
            .. growth.Means.SelectMany(m => m.X.Select((x, i) => FlatRow.Of("mean", "", m.Group, x, m.Mean[i], m.Lower[i], m.Upper[i]))),
            .. (growth.Norm?.Steps ?? []).SelectMany(s => new[] { s.From, s.To }.Select(x => FlatRow.Of("norm", "", "", x, s.Mean, s.Lower, s.Upper))),
            .. growth.Singles.SelectMany((s, n) => s.X.Select((x, i) => FlatRow.Of("single", n + 1, s.Group >= 0 && s.Group < growth.Means.Length ? growth.Means[s.Group].Group : "", x, s.Y[i], "", ""))),
        ]);
}
