using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>The share without an event over time, by group: steps with pointwise bands, ticks where follow-up ended, and numbers at risk below.</summary>
/// <remarks>The vertical axis always runs from 0 to 100%, so that a small difference looks small.</remarks>
internal static class EventFreeCurvesFigure
{
    internal static FigureDrawing Draw(StudyResults results, FigureRequest request, FigureStyle style)
    {
        QuestionResult? question = results.Questions.FirstOrDefault(q => request.Questions.Contains(q.Id));
        if (question is null || question.Curves.IsEmpty)
            return FigureDrawing.Without(request, style, question is null || question.Answered ? "There are no curves to draw." : question.Answer);
        AxisScale share = new(0, 1.015, [.. Enumerable.Range(0, 6).Select(i => new AxisTick(i / 5.0, NumberFormat.Percent(i / 5.0)))]);
        FigurePage page = SteppedCurves.Lay(results.Study, request, style, question.Curves, share, ShareLabel(results.Study));
        return new FigureDrawing(
            page, CurveWords.Caption(results.Study, question), CurveWords.AlternativeText(results.Study, request, question), CurveWords.Data(results.Study, question.Curves))
        {
            Method = $"Kaplan-Meier curves with pointwise 95% intervals ({question.Curves[0].Method}). {question.Model}".TrimEnd(),
        };
    }

    private static string ShareLabel(StudyFacts study)
        => $"{FigureWords.Sentence(study.UnitMany ?? study.ParticipantMany)} without an event";
}
