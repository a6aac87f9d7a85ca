using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Documents.Slides;

/// <summary>A figure as one slide shows it.</summary>
/// <param name="Request">The figure, with the questions of this slide.</param>
/// <param name="Title">Title, with "2 of 3" where it goes on.</param>
/// <param name="Drawing">Its layout.</param>
/// <param name="Words">The whole figure in words, those parts included that other slides show.</param>
/// <param name="Scale">How much smaller than drawn it stands on the slide: 1 unless a single part is taller than a slide.</param>
internal sealed record FigureSlide(FigureRequest Request, string Title, FigureDrawing Drawing, string Words, float Scale);

/// <summary>Lays figures out for slides: what is too tall at lettering that a room can read goes on on a further slide.</summary>
internal static class FigureSlides
{
    private const string Flow = "participant_flow";

    internal static ImmutableArray<FigureSlide> Of(StudyResults results, FigureRequest request, bool dark)
    {
        FigureStyle style = SlideStyle.Figure(dark);
        FigureRequest untitled = request with { Title = "" };
        FigureDrawing whole = FigureCatalog.Lay(results, untitled, style);
        List<(FigureRequest Request, FigureDrawing Drawing)> parts = [];
        if (Fits(whole))
            parts.Add((untitled, whole));
        else if (request.Kind == Flow)
            parts.AddRange(LayFlow(results, untitled, style).Select(d => (untitled, d)));
        else
            LayQuestions(results, untitled, style, parts);
        return [.. parts.Select((p, i) => new FigureSlide(
            p.Request with { Title = request.Title },
            parts.Count == 1 ? request.Title : $"{request.Title} ({i + 1} of {parts.Count})",
            p.Drawing,
            whole.AlternativeText,
            Math.Min(1, SlideStyle.FigureHeight / (p.Drawing.Page.Height * style.Scale))))];
    }

    private static bool Fits(FigureDrawing drawing)
        => drawing.Page.Height * drawing.Page.Style.Scale <= SlideStyle.FigureHeight + 1;

    /// <summary>Half of the questions on each slide, and again, until they fit.</summary>
    private static void LayQuestions(StudyResults results, FigureRequest request, FigureStyle style, List<(FigureRequest, FigureDrawing)> parts)
    {
        FigureDrawing drawing = FigureCatalog.Lay(results, request, style);
        if (Fits(drawing) || request.Questions.Length < 2)
        {
            parts.Add((request, drawing));
            return;
        }
        int half = (request.Questions.Length + 1) / 2;
        LayQuestions(results, request with { Questions = request.Questions[..half] }, style, parts);
        LayQuestions(results, request with { Questions = request.Questions[half..] }, style, parts);
    }

    /// <summary>The trunk first, then the questions, as many as fit each slide; why rows were left out stands in the notes where there is no room.</summary>
    private static IEnumerable<FigureDrawing> LayFlow(StudyResults results, FigureRequest request, FigureStyle style)
    {
        FigureDrawing Draw(ImmutableArray<FlowStep> steps) => FigureCatalog.Lay(results with { Flow = steps }, request, style);
        ImmutableArray<FlowStep> trunk = [.. results.Flow.Where(s => s.Branch is null)];
        FigureDrawing whole = Draw(trunk);
        IEnumerable<FigureDrawing> first = trunk.IsEmpty ? [] : Fits(whole) ? [whole] : Pack(trunk, Draw);
        return [.. first, .. Pack([.. results.Flow.Where(s => s.Branch is not null)], Draw)];
    }

    private static IEnumerable<FigureDrawing> Pack(ImmutableArray<FlowStep> steps, Func<ImmutableArray<FlowStep>, FigureDrawing> draw)
    {
        ImmutableArray<FlowStep> slide = [];
        foreach (FlowStep step in steps.Select(WithoutReasons))
        {
            if (!slide.IsEmpty && !Fits(draw(slide.Add(step))))
            {
                yield return draw(slide);
                slide = [];
            }
            slide = slide.Add(step);
        }
        if (!slide.IsEmpty)
            yield return draw(slide);
    }

    private static FlowStep WithoutReasons(FlowStep step) => step with { LeftOut = [] };
}
