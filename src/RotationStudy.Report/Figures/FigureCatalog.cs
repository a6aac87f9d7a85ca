using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>The kinds of figure by the name that a protocol writes. A new kind is a file and a line here.</summary>
public static class FigureCatalog
{
    private static readonly ImmutableSortedDictionary<string, Func<StudyResults, FigureRequest, FigureStyle, FigureDrawing>> Kinds =
        new Dictionary<string, Func<StudyResults, FigureRequest, FigureStyle, FigureDrawing>>
        {
            ["agreement_limits"] = AgreementLimitsFigure.Draw,
            ["choice_chart"] = ChoiceChartFigure.Draw,
            ["diary_strips"] = DiaryStripsFigure.Draw,
            ["digit_heaping"] = DigitHeapingFigure.Draw,
            ["estimate_forest"] = EstimateForestFigure.Draw,
            ["event_free_curves"] = EventFreeCurvesFigure.Draw,
            ["exposure_curve"] = ExposureCurveFigure.Draw,
            ["fit_scatter"] = FitScatterFigure.Draw,
            ["growth_lines"] = GrowthLinesFigure.Draw,
            ["incidence_curves"] = RisingCurvesFigure.DrawQuestion,
            ["mean_events"] = RisingCurvesFigure.DrawQuestion,
            ["milestone_curves"] = RisingCurvesFigure.DrawMilestones,
            ["missing_map"] = MissingMapFigure.Draw,
            ["paired_points"] = PairedPointsFigure.Draw,
            ["participant_flow"] = ParticipantFlowFigure.Draw,
            ["reliability_forest"] = ReliabilityForestFigure.Draw,
            ["risk_calibration"] = RiskCalibrationFigure.Draw,
            ["risk_decision"] = RiskDecisionFigure.Draw,
            ["risk_discrimination"] = RiskDiscriminationFigure.Draw,
            ["scatter_panels"] = ScatterPanelsFigure.Draw,
            ["score_distributions"] = ScoreDistributionsFigure.Draw,
            ["side_slopes"] = SideSlopesFigure.Draw,
            ["subgroup_forest"] = SubgroupForestFigure.Draw,
            ["tracking_curves"] = TrackingCurvesFigure.Draw,
        }.ToImmutableSortedDictionary(StringComparer.Ordinal);

    /// <summary>Names of all kinds.</summary>
    public static ImmutableArray<string> Names => [.. Kinds.Keys];

    /// <summary>Whether a kind takes declared ends of its horizontal axis.</summary>
    public static bool TakesAxis(string kind) => kind is "fit_scatter" or "estimate_forest" or "subgroup_forest" or "reliability_forest" or "exposure_curve"
        or "growth_lines" or "paired_points" or "scatter_panels" or "tracking_curves";

    /// <summary>Draws one figure of a run.</summary>
    /// <exception cref="ArgumentException">No kind has that name.</exception>
    public static Figure Draw(StudyResults results, FigureRequest request) => Figure.Finish(request, Lay(results, request, FigureStyle.Standard));

    /// <summary>Draws all figures of a run, in the order the protocol asks for them, one after another: the drawing library has died on several threads at once.</summary>
    public static ImmutableArray<Figure> DrawAll(StudyResults results)
        => [.. results.Figures.Select(request => Draw(results, request))];

    internal static FigureDrawing Lay(StudyResults results, FigureRequest request, FigureStyle? style = null)
        => Kinds.TryGetValue(request.Kind, out var draw)
            ? draw(results, request, style ?? FigureStyle.Standard)
            : throw new ArgumentException($"No figure is of the kind '{request.Kind}'. Kinds are {string.Join(", ", Names)}.", nameof(request));
}
