using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Caption, alternative text and data of the curves.</summary>
internal static class CurveWords
{
    internal static string Caption(StudyFacts study, QuestionResult question)
        => $"{char.ToUpperInvariant(FigureWords.People(study, question.Counts)[0])}{FigureWords.People(study, question.Counts)[1..]}. "
            + $"Bands: pointwise 95% intervals ({question.Curves[0].Method}). Small ticks: follow-up ended without an event.";

    internal static string AlternativeText(StudyFacts study, FigureRequest request, QuestionResult question)
    {
        string groups = string.Join(" ", question.Curves.Select(c => Group(study, c)));
        return $"{request.Title}. Stepped curves of the share without an event, {question.Curves[0].TimeLabel} across; {FigureWords.People(study, question.Counts)}. {groups}";
    }

    internal static FlatTable Data(StudyFacts study, ImmutableArray<EventFreeCurve> curves)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        return new FlatTable(
            ["kind", "group", "time", "share", "lower_95", "upper_95", "at_risk", "events_so_far"],
            [
                .. curves.SelectMany(c => c.Times.Select((t, i) => FlatRow.Of("step", c.Group, t, c.Share[i], c.Lower[i], c.Upper[i], "", ""))),
                .. curves.SelectMany(c => c.CensorTimes.Select(t => FlatRow.Of("follow-up ended", c.Group, t, CurveSteps.At(c, t), "", "", "", ""))),
                .. curves.SelectMany(c => c.AtRiskTimes.Select((t, i) =>
                    FlatRow.Of("at risk", c.Group, t, "", "", "", small.Text(c.AtRisk[i]), small.Text(c.EventsSoFar[i])))),
            ]);
    }

    private static string Group(StudyFacts study, EventFreeCurve curve)
    {
        string name = curve.Group.Length > 0 ? curve.Group : "All";
        if (curve.AtRiskTimes.IsEmpty)
            return $"{name}: ends at {NumberFormat.Percent(curve.Share[^1])}.";
        SmallCounts small = new(study.SmallestPrintedCount);
        int last = Array.FindLastIndex([.. curve.AtRisk], n => n > 0);
        double time = curve.AtRiskTimes[Math.Max(0, last)];
        double At(ImmutableArray<double> values) => CurveSteps.ValueAt(curve, values, time, 1);
        return $"{name}: {NumberFormat.Percent(At(curve.Share))} (95% interval {NumberFormat.Percent(At(curve.Lower))} to {NumberFormat.Percent(At(curve.Upper))}) "
            + $"without an event at {NumberFormat.Brief(time)}, {small.Text(curve.AtRisk[0])} at risk at the start and {small.Text(curve.AtRisk[Math.Max(0, last)])} then.";
    }
}
