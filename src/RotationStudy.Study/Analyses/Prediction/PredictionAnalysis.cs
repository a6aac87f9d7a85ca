using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>The models and scores of prediction.yaml, in its order.</summary>
public static class PredictionAnalysis
{
    /// <summary>Results for the report, and what figures of risks draw; both empty without that file.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    public static (ImmutableArray<PredictionResult> Results, ImmutableArray<RiskPerformance> Risks) Build(StudyProtocol protocol, DerivedMeasures measures)
    {
        if (protocol.Prediction is not { } plan)
            return ([], []);
        (PredictionResult Result, ImmutableArray<RiskPerformance> Risks)[] all =
        [
            .. plan.Models.Select(m => DevelopedModel.Build(protocol, measures, m)),
            .. plan.Scores.Select(s => AppliedScore.Build(measures, s)),
        ];
        return ([.. all.Select(a => a.Result)], [.. all.SelectMany(a => a.Risks)]);
    }

    /// <summary>A question that gives the rows and columns of a model or score.</summary>
    internal static QuestionDefinition Rows(
        string id, string title, string asks, RowLevel rows, string outcome, RowFilter? keep, IEnumerable<ExposureTerm> terms, Place place)
        => new(
            id, title, asks, QuestionKind.Odds, rows, outcome, null, null, null, null, [.. terms], [], [], null, [], null, keep, null, 1, null, place);

    /// <summary>Intervals and cautions that stand beside every result.</summary>
    internal static ImmutableArray<string> Cautions { get; } =
    [
        "This is no tool for the bedside: risks are group estimates from one cohort, and nobody's care may rest on them.",
        "Whoever left early without the event counts as without it, so risks are those seen during follow-up, not those of a fixed time.",
    ];

    internal static ImmutableArray<string> Citations { get; } =
    [
        "Collins GS, Reitsma JB, Altman DG, Moons KGM. Transparent reporting of a multivariable prediction model for individual prognosis or diagnosis (TRIPOD). BMJ 2015;350:g7594.",
        "Steyerberg EW and others. Assessing the performance of prediction models. Epidemiology 2010;21:128-138.",
        "Vickers AJ, Elkin EB. Decision curve analysis. Med Decis Making 2006;26:565-574.",
        "Obuchowski NA. Nonparametric analysis of clustered ROC curve data. Biometrics 1997;53:567-578.",
    ];
}
