using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>A yes/no outcome: logistic regression with variance by participant; separation is answered by Firth's penalised likelihood and said.</summary>
internal static class OddsAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        double[] outcome = [.. input.Values(input.Question.Outcome)];
        int events = outcome.Count(v => v > 0);
        QuestionResult result;
        try
        {
            GeneralizedLinearFit fit = LogisticRegression.Fit(input.DesignWithIntercept(), outcome, input.Clusters());
            ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, "odds ratio");
            result = input.Result(Sentences.Answer(rows, input), Model(input, $"maximum likelihood; {fit.Coefficients.VarianceMethod}, clustered by {input.Protocol.Study.ParticipantWords.One}")) with
            {
                Estimates = rows,
                Citations = [Sources.LiangZeger],
                Warnings = [.. input.Terms.Omitted, .. fit.Warnings],
                Diagnostics = [Diagnostics.NoSeparation, Diagnostics.Convergence(fit.Iterations)],
            };
        }
        catch (SeparationError separation)
        {
            result = Penalized(input, outcome, separation);
        }
        int smaller = Math.Min(events, outcome.Length - events);
        return result with
        {
            Counts = input.Counts(events),
            Diagnostics = [Diagnostics.EventsPerParameter(smaller, input.Terms.Terms.Length), Diagnostics.OddsAreNotRisks(events, outcome.Length), .. result.Diagnostics],
        };
    }

    private static QuestionResult Penalized(AnalysisInput input, double[] outcome, SeparationError separation)
    {
        FirthFit fit = FirthLogisticRegression.Fit(input.DesignWithIntercept(), outcome);
        ImmutableArray<EstimateRow> rows = [.. input.Terms.Terms.Select(t =>
            EstimateRows.Row(fit.Profile[fit.Coefficients.IndexOf(t.Name)], t, "odds ratio", null, 1, Math.Exp, "penalised likelihood, profile interval"))];
        return input.Result(Sentences.Answer(rows, input), Model(input, "Firth's penalised likelihood with profile intervals")) with
        {
            Estimates = rows,
            Citations = [Sources.Firth, Sources.HeinzeSchemper],
            Diagnostics = [new DiagnosticRow(CheckNames.Separation, false, $"The maximum-likelihood estimate does not exist: {separation.What}.")],
            Warnings = [.. input.Terms.Omitted, $"The maximum-likelihood estimate does not exist ({separation.What}), so penalised likelihood was used. Its intervals take rows as independent and are too narrow where two sides of a person go together."],
        };
    }

    private static string Model(AnalysisInput input, string method)
    {
        MeasureDefinition outcome = input.Measures[input.Question.Outcome!].Definition;
        return $"Logistic regression of {Sentences.LowerFirst(outcome.Label)} ({method}).";
    }
}
