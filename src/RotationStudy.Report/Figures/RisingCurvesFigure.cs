using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Curves that rise from zero with bands and numbers at risk: cumulative incidence, mean number of events, milestones reached.</summary>
/// <remarks>Where several events compete, the event asked about is drawn, and the others stand in the data and the alternative text.</remarks>
internal static class RisingCurvesFigure
{
    internal static FigureDrawing DrawQuestion(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        return question is null || question.Rising.IsEmpty
            ? FigureDrawing.Without(request, style, question is null || question.Answered ? "There are no curves to draw." : question.Answer)
            : Draw(results.Study, request, style, question.Rising, sumEvents: true);
    }

    internal static FigureDrawing DrawMilestones(StudyResults results, FigureRequest request, FigureStyle style)
    {
        RisingCurves? curves = results.Values.Milestones.FirstOrDefault(m => m.Figure == request.Id)?.Curves;
        return curves is null || curves.Curves.IsEmpty
            ? FigureDrawing.Without(request, style, "Too few had the event for curves of what came after it.")
            : Draw(results.Study, request, style, [curves], sumEvents: false);
    }

    private static FigureDrawing Draw(StudyFacts study, FigureRequest request, FigureStyle style, ImmutableArray<RisingCurves> all, bool sumEvents)
    {
        RisingCurves drawn = all[0];
        FigurePage page = SteppedCurves.Lay(study, request, style, [.. drawn.Curves.Select(c => FromZero(c, drawn.TimeLabel))], Axis(drawn), drawn.ValueLabel);
        // The milestones of one unit are no events to be added up.
        string people = People(study, drawn, sumEvents);
        return new FigureDrawing(page, Caption(people, all), Words(people, request, all), Data(study, all)) { Method = Method(drawn) };
    }

    /// <summary>The same curve as a stepped curve wants it: from zero to the last time at which somebody was followed.</summary>
    private static EventFreeCurve FromZero(RisingCurve c, string timeLabel)
    {
        bool on = c.End > (c.Times.IsEmpty ? 0 : c.Times[^1]);
        ImmutableArray<double> Whole(ImmutableArray<double> values) => [0, .. values, .. on ? [values.IsEmpty ? 0 : values[^1]] : ImmutableArray<double>.Empty];
        return new EventFreeCurve(
            c.Group, timeLabel, [0, .. c.Times, .. on ? [c.End] : ImmutableArray<double>.Empty],
            Whole(c.Value), Whole(c.Lower), Whole(c.Upper), [], c.AtRiskTimes, c.AtRisk, c.EventsSoFar, "");
    }

    private static AxisScale Axis(RisingCurves curves)
    {
        double top = curves.Curves.Max(c => c.Times.IsEmpty ? 0 : c.Upper.Where(double.IsFinite).Append(c.Value[^1]).Max());
        if (!curves.IsShare)
            return AxisScale.Linear(0, Math.Max(top, 0.1), 5);
        AxisScale axis = AxisScale.Linear(0, Math.Clamp(top, 0.05, 1), 5);
        return new AxisScale(0, axis.Max >= 1 ? 1.015 : axis.Max, [.. axis.Ticks.Select(t => new AxisTick(t.At, NumberFormat.Percent(t.At)))]);
    }

    private static string People(StudyFacts study, RisingCurves curves, bool sumEvents)
        => FigureWords.People(study, new AnalysisCounts(curves.Participants, curves.Units, curves.Units, sumEvents ? curves.Curves.Sum(c => c.Events) : 0, 0, null));

    private static string Caption(string people, ImmutableArray<RisingCurves> all)
    {
        RisingCurves drawn = all[0];
        string end = drawn.IsShare && Axis(drawn).Max < 1 ? $" The vertical axis ends at {NumberFormat.Percent(Axis(drawn).Max)}." : "";
        string others = all.Length > 1 ? $" Competing: {string.Join(", ", all.Skip(1).Select(c => c.Title))}." : "";
        return $"{FigureWords.Sentence(people)}. Bands: pointwise 95% intervals.{others}{end}";
    }

    private static string Method(RisingCurves curves) => $"{curves.Method.TrimEnd('.')}; pointwise 95% intervals.";

    private static string Words(string people, FigureRequest request, ImmutableArray<RisingCurves> all)
    {
        IEnumerable<string> curves = all.SelectMany(a => a.Curves.Select(c =>
            $"{(all.Length > 1 ? a.Title + ", " : "")}{(c.Group.Length > 0 ? c.Group : "all")}: {Last(a, c)}."));
        return $"{request.Title}. Stepped curves of {all[0].ValueLabel}, {all[0].TimeLabel} across; {people}. {string.Join(" ", curves)}";
    }

    private static string Last(RisingCurves all, RisingCurve c)
    {
        if (c.Times.IsEmpty)
            return "no event";
        string Text(double v) => all.IsShare ? NumberFormat.Percent(v, 1) : NumberFormat.Fixed(v, 2);
        return $"{Text(c.Value[^1])} (95% interval {Text(c.Lower[^1])} to {Text(c.Upper[^1])}) from {NumberFormat.Brief(c.Times[^1])} on, followed to {NumberFormat.Brief(c.End)}";
    }

    private static FlatTable Data(StudyFacts study, ImmutableArray<RisingCurves> all)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        return new FlatTable(
            ["kind", "event", "group", "time", "value", "lower_95", "upper_95", "at_risk", "events_so_far"],
            [
                .. all.SelectMany(a => a.Curves.SelectMany(c => c.Times.Select((t, i) =>
                    FlatRow.Of("step", a.Title, c.Group, t, c.Value[i], c.Lower[i], c.Upper[i], "", "")))),
                .. all.SelectMany(a => a.Curves.SelectMany(c => c.AtRiskTimes.Select((t, i) =>
                    FlatRow.Of("at risk", a.Title, c.Group, t, "", "", "", small.Text(c.AtRisk[i]), small.Text(c.EventsSoFar[i]))))),
            ]);
    }
}
