using RotationStudy.Report.Files;
using RotationStudy.Study.Results;
using SkiaSharp;

namespace RotationStudy.Report.Figures;

/// <summary>The association of a continuous exposure as a spline with its band, ratios on a logarithmic axis; below, a stroke for every value.</summary>
/// <remarks>The curve runs from the 2nd to the 98th per cent of the values; the strokes show all of them, so that nothing is read where nobody is.</remarks>
internal static class ExposureCurveFigure
{
    private const float RugHeight = 7;

    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        ShapeCurve? curve = question?.Supplement.Shapes.FirstOrDefault(s => request.Exposure is null || s.Exposure == request.Exposure);
        if (question is null || curve is null || curve.X.Length < 2)
            return FigureDrawing.Without(request, style, question is null || question.Answered ? "There is no curve of this exposure." : question.Answer);
        bool ratio = curve.NoEffect == 1;
        Func<double, double> scale = v => ratio ? Math.Log10(Math.Max(v, double.Epsilon)) : v;
        double low = curve.X[0], high = curve.X[^1];
        PlotFrame frame = new(
            request.Across is [double from, double to] ? AxisScale.Between(from, to, 7) : AxisScale.Around(curve.Values.Append(low).Min(), curve.Values.Append(high).Max(), 7),
            Axis(curve, ratio), curve.Label, Label(curve, ratio))
        {
            Key = MarkKey.Of(new(KeySymbol.Band, 0, "spline with 95% band"), new(KeySymbol.Dashed, 0, $"no association ({NumberFormat.Brief(curve.NoEffect)})")),
        };
        (FigurePage page, PlotArea area, ScottPlot.Plot plot) = frame.Begin(request, style);
        SKColor ink = style.Series(0);
        // An end of the band that is infinite is drawn beyond the edge.
        double Within(double v) => Math.Clamp(scale(v), area.Y.Min - 1, area.Y.Max + 1);
        plot.Band(curve.X, curve.Lower.Select(Within), curve.Upper.Select(Within), ink);
        plot.Curve(curve.X, curve.Estimate.Select(scale), ink);
        float none = area.ToY(scale(curve.NoEffect));
        page.Line(area.Area.Left, none, area.Area.Right, none, style.QuietInk, FigureTheme.AxisWidth, 3, 2);
        DrawRug(page, area, curve);
        return new FigureDrawing(page, Caption(results.Study, question, curve), Words(results.Study, request, question, curve), Data(curve))
        {
            Method = $"{curve.Words} {question.Model}".Trim(),
        };
    }

    /// <summary>Ends of the band that run far beyond the curve are cut: the curve must be seen.</summary>
    private static AxisScale Axis(ShapeCurve curve, bool ratio)
    {
        const double longestReach = 4;
        double[] lower = [.. curve.Lower.Where(double.IsFinite)], upper = [.. curve.Upper.Where(double.IsFinite)];
        if (!ratio)
            return AxisScale.Around(lower.Append(curve.NoEffect).Append(curve.Estimate.Min()).Min(), upper.Append(curve.NoEffect).Append(curve.Estimate.Max()).Max(), 6);
        double least = Math.Max(lower.Where(v => v > 0).Append(0.9).Min(), curve.Estimate.Where(v => v > 0).Append(1).Min() / longestReach);
        double most = Math.Min(upper.Append(1.1).Max(), curve.Estimate.Append(1).Max() * longestReach);
        return AxisScale.Logarithmic(least / 1.08, most * 1.08);
    }

    private static string Label(ShapeCurve curve, bool ratio)
        => $"{FigureWords.Sentence(curve.Scale)} against {NumberFormat.Brief(curve.Reference)}{(ratio ? " (logarithmic axis)" : curve.Unit is null ? "" : $" ({curve.Unit})")}";

    private static void DrawRug(FigurePage page, PlotArea area, ShapeCurve curve)
    {
        SKColor ink = page.Style.Ink.WithAlpha(curve.Values.Length > 1500 ? (byte)40 : (byte)110);
        foreach (double value in curve.Values.Where(v => v >= area.X.Min && v <= area.X.Max))
            page.Line(area.ToX(value), area.Area.Bottom - RugHeight, area.ToX(value), area.Area.Bottom, ink, FigureTheme.GridWidth);
        foreach (double knot in curve.Knots.Where(k => k >= area.X.Min && k <= area.X.Max))
        {
            float x = area.ToX(knot);
            page.Polygon(page.Style.QuietInk, new(x, area.Area.Top + 5), new(x - 2.5f, area.Area.Top), new(x + 2.5f, area.Area.Top));
        }
    }

    private static string Caption(StudyFacts study, QuestionResult question, ShapeCurve curve)
        => $"{FigureWords.PeopleSentence(study, question.Counts)} Curve against {NumberFormat.Brief(curve.Reference)}, from the 2nd to the 98th per cent of the values, with pointwise 95% band; "
            + $"strokes: every value ({NumberFormat.Count(curve.Values.Length)}); triangles: knots. Straight line: {NumberFormat.PClause(curve.NonLinearityPValue)}.";

    private static string Words(StudyFacts study, FigureRequest request, QuestionResult question, ShapeCurve curve)
    {
        string At(int i) => $"{NumberFormat.Brief(curve.Estimate[i])} (95% interval {NumberFormat.Brief(curve.Lower[i])} to {NumberFormat.Brief(curve.Upper[i])}) at {NumberFormat.Brief(curve.X[i])}";
        return $"{request.Title}. {FigureWords.Sentence(curve.Scale)} by {curve.Label} against {NumberFormat.Brief(curve.Reference)}: {At(0)}, {At(curve.X.Length / 2)}, {At(curve.X.Length - 1)}. "
            + $"{curve.Words} {FigureWords.PeopleSentence(study, question.Counts)}";
    }

    private static FlatTable Data(ShapeCurve curve) => new(
        ["kind", "x", "estimate", "lower_95", "upper_95"],
        [
            .. curve.X.Select((x, i) => FlatRow.Of("curve", x, curve.Estimate[i], curve.Lower[i], curve.Upper[i])),
            .. curve.Knots.Select(k => FlatRow.Of("knot", k, "", "", "")),
            .. curve.Values.Select(v => FlatRow.Of("value", v, "", "", "")),
        ]);
}
