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

    /// <summary>Cumulative incidence of each of several events that exclude each other, with numbers at risk.</summary>
    IncidenceCurves,

    /// <summary>Mean cumulative number of events over time, by group, with numbers at risk.</summary>
    MeanEvents,

    /// <summary>Estimates within the subgroups that the plan names.</summary>
    SubgroupForest,

    /// <summary>An exposure as a spline with its band, and a stroke for every value.</summary>
    ExposureCurve,

    /// <summary>Single units faint, mean lines and a published norm bold.</summary>
    GrowthLines,

    /// <summary>Two measures against each other, both sides of a person joined, events marked.</summary>
    PairedPoints,

    /// <summary>Both sides of each person joined, events marked.</summary>
    SideSlopes,

    /// <summary>Difference against mean of two readings, with limits of agreement and their intervals.</summary>
    AgreementLimits,

    /// <summary>Intraclass correlations with intervals, one line each.</summary>
    ReliabilityForest,

    /// <summary>Share of missing values by measure and site.</summary>
    MissingMap,

    /// <summary>Last digits of readings, by rater.</summary>
    DigitHeaping,

    /// <summary>How often each value of a score occurs, under one or several definitions.</summary>
    ScoreDistributions,

    /// <summary>Share that has reached each milestone of recovery, over time.</summary>
    MilestoneCurves,

    /// <summary>Weeks of diaries, a strip per person.</summary>
    DiaryStrips,

    /// <summary>Two measures against each other, a panel per group.</summary>
    ScatterPanels,

    /// <summary>Predicted against observed risk, with the distribution of predicted risks.</summary>
    RiskCalibration,

    /// <summary>True against false alarms over all thresholds.</summary>
    RiskDiscrimination,

    /// <summary>Net benefit over thresholds.</summary>
    RiskDecision,

    /// <summary>Mean curves over an arc with simultaneous bands.</summary>
    TrackingCurves,
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

    /// <summary>Measures that it draws, for the kinds that draw measures.</summary>
    public ImmutableArray<string> Measures { get; init; } = [];

    /// <summary>A measure of yes and no, or of codes of which the first is none, whose rows are marked; null for no marks.</summary>
    public string? Marks { get; init; }

    /// <summary>A coded measure that splits the figure into panels; null for one panel.</summary>
    public string? By { get; init; }
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
