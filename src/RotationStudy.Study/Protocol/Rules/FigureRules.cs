using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the figures: each draws questions of a kind that yields what it shows.</summary>
internal static class FigureRules
{
    internal static void Check(RuleContext context)
    {
        context.Unique(context.Protocol.Figures.Select(f => (f.Id, f.Place, "id")), "figure");
        foreach (FigureDefinition figure in context.Protocol.Figures)
        {
            context.PlainName(figure.Id, figure.Place, "id");
            CheckQuestions(figure, context);
            CheckExposure(figure, context);
            FigureMeasureRules.Check(figure, context);
        }
    }

    private static void CheckQuestions(FigureDefinition figure, RuleContext context)
    {
        if (FigureMeasureRules.DrawsNoQuestion(figure.Kind))
        {
            if (figure.Questions.Length > 0)
                context.Fault(figure.Place, "questions", figure.Kind == FigureKind.ParticipantFlow ? "A participant flow draws the whole study." : "This kind of figure draws no question.", "Remove 'questions'.");
            return;
        }
        if (figure.Questions.IsEmpty)
        {
            context.Fault(
                figure.Place, "questions", $"Figure '{figure.Id}' draws no question.",
                "Name the questions whose results it shows.");
        }
        for (int i = 0; i < figure.Questions.Length; i++)
        {
            string id = figure.Questions[i];
            if (DrawsRisks(figure.Kind))
            {
                CheckRisk(figure, i, context);
                continue;
            }
            QuestionDefinition? question = context.Protocol.Plan.Questions.FirstOrDefault(q => q.Id == id);
            if (question is null)
            {
                context.Fault(
                    figure.Place, $"questions[{i}]", $"No question is called '{id}'.",
                    NearestName.Hint(id, [.. context.Protocol.Plan.Questions.Select(q => q.Id)]));
            }
            else if (figure.Kind == FigureKind.ChoiceChart)
            {
                if (context.Protocol.Plan.Choices.All(c => c.Question != id))
                    context.Fault(figure.Place, $"questions[{i}]", $"The plan lists no choices for question {id}.", "Add them to 'choices' in plan.yaml.");
            }
            else if (figure.Kind == FigureKind.SubgroupForest)
            {
                if (question.Subgroups.IsEmpty)
                    context.Fault(figure.Place, $"questions[{i}]", $"Question {id} names no subgroups.", "Add 'subgroups' to it in plan.yaml.");
            }
            else if (!Suits(figure.Kind, question.Kind))
            {
                context.Fault(
                    figure.Place, $"questions[{i}]",
                    $"Question {id} yields nothing that this kind of figure shows.",
                    $"Name a question of kind {Kinds(figure.Kind)}.");
            }
        }
    }

    private static bool DrawsRisks(FigureKind kind) => kind is FigureKind.RiskCalibration or FigureKind.RiskDiscrimination or FigureKind.RiskDecision;

    private static void CheckRisk(FigureDefinition figure, int at, RuleContext context)
    {
        string[] known = [.. context.Protocol.Prediction?.Models.Select(m => m.Id) ?? [], .. context.Protocol.Prediction?.Scores.Select(s => s.Id) ?? []];
        if (!known.Contains(figure.Questions[at]))
        {
            context.Fault(
                figure.Place, $"questions[{at}]", $"prediction.yaml has no model or score '{figure.Questions[at]}'.",
                known.Length == 0 ? "Add prediction.yaml." : NearestName.Hint(figure.Questions[at], known));
        }
    }

    private static void CheckExposure(FigureDefinition figure, RuleContext context)
    {
        if (figure.Exposure is not { } exposure)
            return;
        if (figure.Kind is not (FigureKind.FitScatter or FigureKind.ExposureCurve or FigureKind.SubgroupForest))
        {
            context.Fault(
                figure.Place, "exposure", "Only a figure of kind fit_scatter, exposure_curve or subgroup_forest has an exposure.",
                "Remove 'exposure'.");
            return;
        }
        foreach (QuestionDefinition question in context.Protocol.Plan.Questions.Where(q => figure.Questions.Contains(q.Id)))
        {
            string[] exposures = [.. question.Exposures.Select(e => e.Measure)];
            if (!exposures.Contains(exposure))
            {
                context.Fault(
                    figure.Place, "exposure", $"'{exposure}' is no exposure of question {question.Id}.",
                    NearestName.Hint(exposure, exposures));
            }
            else if (figure.Kind != FigureKind.SubgroupForest && context.Measure(figure.Place, "exposure", exposure) is { IsNumeric: false })
            {
                context.Fault(
                    figure.Place, "exposure", $"'{exposure}' has no numbers for an axis.",
                    "Name an exposure of numbers.");
            }
        }
    }

    private static bool Suits(FigureKind figure, QuestionKind question) => figure switch
    {
        FigureKind.FitScatter => question is QuestionKind.Mean,
        FigureKind.EventFreeCurves => question is QuestionKind.TimeToFirst,
        FigureKind.EstimateForest => question is QuestionKind.Odds or QuestionKind.Rate or QuestionKind.TimeToFirst or QuestionKind.AllEvents
            or QuestionKind.OrderedOdds or QuestionKind.CompetingEvents or QuestionKind.WithinPerson or QuestionKind.RecurrentEvents,
        FigureKind.IncidenceCurves => question is QuestionKind.CompetingEvents,
        FigureKind.MeanEvents => question is QuestionKind.Rate or QuestionKind.AllEvents or QuestionKind.RecurrentEvents,
        FigureKind.ExposureCurve => question is not (QuestionKind.Baseline or QuestionKind.Agreement or QuestionKind.Curves),
        FigureKind.GrowthLines => question is QuestionKind.Trajectory,
        FigureKind.AgreementLimits or FigureKind.ReliabilityForest => question is QuestionKind.Agreement,
        FigureKind.RiskCalibration or FigureKind.RiskDiscrimination or FigureKind.RiskDecision => true,
        FigureKind.TrackingCurves => question is QuestionKind.Curves,
        _ => false,
    };

    private static string Kinds(FigureKind figure) => figure switch
    {
        FigureKind.FitScatter => "mean",
        FigureKind.EventFreeCurves => "time_to_first",
        FigureKind.IncidenceCurves => "competing_events",
        FigureKind.MeanEvents => "rate, all_events or recurrent_events",
        FigureKind.ExposureCurve => "mean, odds, rate or another with a model",
        FigureKind.GrowthLines => "trajectory",
        FigureKind.AgreementLimits or FigureKind.ReliabilityForest => "agreement",
        FigureKind.TrackingCurves => "curves",
        _ => "odds, rate, time_to_first or all_events",
    };
}
