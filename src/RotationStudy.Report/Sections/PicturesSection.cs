using System.Collections.Immutable;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>Figures of measures, which belong to no question.</summary>
internal static class PicturesSection
{
    internal const string Anchor = "pictures", Title = "Measures in pictures";

    /// <summary>Whether a figure stands here rather than at a question, with the flow or with the missing values.</summary>
    internal static bool Holds(FigureRequest request) => request.Questions.IsEmpty && request.Kind is not ("participant_flow" or "missing_map");

    internal static void Write(HtmlWriter page, ImmutableArray<Figure> figures)
    {
        if (figures.IsEmpty)
            return;
        page.Section(Anchor, Title, () =>
        {
            foreach (Figure figure in figures)
                FigureSection.Write(page, figure);
        });
    }
}
