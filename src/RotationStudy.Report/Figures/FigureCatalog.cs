using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>The kinds of figure by the name that a protocol writes. A new kind is a file and a line here.</summary>
public static class FigureCatalog
{
    private static readonly ImmutableSortedDictionary<string, Func<StudyResults, FigureRequest, FigureStyle, FigureDrawing>> Kinds =
        new Dictionary<string, Func<StudyResults, FigureRequest, FigureStyle, FigureDrawing>>
        {
            ["choice_chart"] = ChoiceChartFigure.Draw,
            ["estimate_forest"] = EstimateForestFigure.Draw,
            ["event_free_curves"] = EventFreeCurvesFigure.Draw,
            ["fit_scatter"] = FitScatterFigure.Draw,
            ["participant_flow"] = ParticipantFlowFigure.Draw,
        }.ToImmutableSortedDictionary(StringComparer.Ordinal);

    /// <summary>Names of all kinds.</summary>
    public static ImmutableArray<string> Names => [.. Kinds.Keys];

    /// <summary>Draws one figure of a run.</summary>
    /// <exception cref="ArgumentException">No kind has that name.</exception>
    public static Figure Draw(StudyResults results, FigureRequest request) => Figure.Finish(request, Lay(results, request, FigureStyle.Standard));

    /// <summary>Draws all figures of a run, in the order the protocol asks for them. Drawing in parallel changes no byte.</summary>
    public static ImmutableArray<Figure> DrawAll(StudyResults results)
    {
        Figure[] figures = new Figure[results.Figures.Length];
        Parallel.For(0, figures.Length, i => figures[i] = Draw(results, results.Figures[i]));
        return [.. figures];
    }

    internal static FigureDrawing Lay(StudyResults results, FigureRequest request, FigureStyle? style = null)
        => Kinds.TryGetValue(request.Kind, out var draw)
            ? draw(results, request, style ?? FigureStyle.Standard)
            : throw new ArgumentException($"No figure is of the kind '{request.Kind}'. Kinds are {string.Join(", ", Names)}.", nameof(request));
}
