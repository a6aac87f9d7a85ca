using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>A numeric outcome: ordinary least squares with variance by participant, so that two sides of a person count as dependent.</summary>
internal static class MeanAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        MeasureDefinition outcome = input.Measures[input.Question.Outcome!].Definition;
        Clusters clusters = input.Clusters();
        LinearRegressionResult fit = LinearRegression.Fit(input.DesignWithIntercept(), input.Values(input.Question.Outcome));
        Coefficients robust = fit.ClusterRobust(clusters);
        Coefficients beside = fit.ClusterRobust(clusters, ClusterVariance.CR1);
        ImmutableArray<EstimateRow> rows = EstimateRows.Differences(robust, input.Terms, outcome.Unit);
        ImmutableArray<EstimateRow> rowsBeside = [.. EstimateRows.Differences(beside, input.Terms, outcome.Unit).Where(r => r.Role != "adjustment")];
        return input.Result(
            Sentences.Answer(rows, input),
            $"Linear regression of {Sentences.LowerFirst(Labels.WithUnit(outcome))} by ordinary least squares ({robust.VarianceMethod}, clustered by {input.Protocol.Study.ParticipantWords.One}).") with
        {
            Estimates = rows,
            Beside = rowsBeside,
            Citations = [Sources.LiangZeger, Sources.BellMcCaffrey],
            Diagnostics = [Diagnostics.PersonsPerParameter(input), Diagnostics.ExplainedVariance(fit)],
            Scatters = FitScatters.Draw(input, fit, robust),
        };
    }
}
