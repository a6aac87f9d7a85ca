using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>The kinds of figure.</summary>
public enum FigureKind
{
    /// <summary>Who was screened, enrolled, left out and analysed.</summary>
    ParticipantFlow,

    /// <summary>Outcome against exposure with the fitted line and its band.</summary>
    FitScatter,

    /// <summary>Share without an event over time, by group, with numbers at risk.</summary>
    EventFreeCurves,

    /// <summary>Estimates with intervals, one line each.</summary>
    EstimateForest,

    /// <summary>One estimate under every combination of the plan's choices, in order, with the choices below.</summary>
    ChoiceChart,
}

/// <summary>A figure that the protocol asks for.</summary>
/// <param name="Id">File name of the figure without ending.</param>
/// <param name="Kind">Kind of figure.</param>
/// <param name="Title">Title above the figure.</param>
/// <param name="Questions">Questions whose results it draws; empty for the participant flow.</param>
/// <param name="Exposure">For FitScatter, the exposure on the horizontal axis; null takes the first.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record FigureDefinition(
    string Id, FigureKind Kind, string Title, ImmutableArray<string> Questions, string? Exposure, Place Place)
{
    /// <summary>Uses that the run draws it for, beside the picture of the report.</summary>
    public ImmutableArray<FigureUse> Uses { get; init; } = [];
}

/// <summary>What a figure is drawn for: its width, the size of its lettering and its paper follow.</summary>
public enum FigureUse
{
    /// <summary>A journal's single column, 85 mm.</summary>
    JournalSingle,

    /// <summary>A journal's double column, 170 mm.</summary>
    JournalDouble,

    /// <summary>A slide of 16:9 on white.</summary>
    SlideLight,

    /// <summary>A slide of 16:9 on near black.</summary>
    SlideDark,

    /// <summary>A poster, 600 mm.</summary>
    Poster,
}
