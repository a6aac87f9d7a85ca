using System.Collections.Immutable;
using System.Text.RegularExpressions;
using RotationStudy.Report.Figures;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Documents.Slides;

/// <summary>The words of a slide: as many whole sentences as it can hold, all of them in the notes.</summary>
internal static partial class SlideWords
{
    /// <summary>How many and by which method, below a figure.</summary>
    internal static string Footnote(StudyResults results, FigureRequest request)
    {
        ImmutableArray<QuestionResult> questions = [.. results.Questions.Where(q => request.Questions.Contains(q.Id))];
        if (questions.IsEmpty)
            return $"{results.Study.Design.TrimEnd('.')}.";
        string counts = string.Join("; ", questions.GroupBy(q => FigureWords.People(results.Study, q.Counts))
            .Select(g => questions.Length == 1 ? g.Key : $"{string.Join(", ", g.Select(q => q.Id))}: {g.Key}"));
        string[] methods = [.. questions.Select(q => q.Model).Where(m => m.Length > 0).Distinct(StringComparer.Ordinal)];
        return $"{counts}. {string.Join(' ', methods)}".TrimEnd();
    }

    /// <summary>All that the figure says, for whoever presents it.</summary>
    internal static IEnumerable<string> Notes(StudyResults results, FigureRequest request, FigureSlide slide, float lettering) =>
    [
        slide.Drawing.Caption,
        Footnote(results, request),
        .. results.Questions.Where(q => request.Questions.Contains(q.Id)).Select(q => $"{q.Id} {q.Title}: {q.Answer}"),
        .. lettering < SlideStyle.TextSize - 0.01f
            ? [$"The figure is too tall for a slide; its smallest lettering is {NumberFormat.Fixed(lettering, 0)} points. Show fewer questions or groups."]
            : Array.Empty<string>(),
        $"In words: {slide.Words}",
        $"Figure {request.Id} of study {results.Study.Id}, program {results.Provenance.ProgramVersion}, protocol {results.Provenance.ProtocolVersion}, plan fixed {results.Study.PlanDated}.",
    ];

    /// <summary>The whole sentences that fit; a first sentence that is too long alone is cut with an ellipsis.</summary>
    internal static string Fit(string text, float size, float width, int lines)
    {
        width *= SlideStyle.Filled;
        string[] sentences = SentenceEnd().Split(text);
        string fitting = "";
        foreach (string sentence in sentences)
        {
            string longer = fitting.Length == 0 ? sentence : fitting + " " + sentence;
            if (Lettering.Wrap(longer, size, width).Length > lines)
                break;
            fitting = longer;
        }
        return fitting.Length > 0 ? fitting : string.Join(' ', Lettering.Wrap(text, size, width, lines));
    }

    [GeneratedRegex(@"(?<=[.!?]) (?=[\p{Lu}\d])")]
    private static partial Regex SentenceEnd();
}
