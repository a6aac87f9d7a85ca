using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Mixed;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>A numeric outcome over repeated rows: linear mixed model with participant (and side within participant) effects, REML.</summary>
internal static class TrajectoryAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        LinearMixedModelFit fit = LinearMixedModel.Fit(input.DesignWithIntercept(), input.Values(input.Question.Outcome), Terms(input));
        MeasureDefinition outcome = input.Measures[input.Question.Outcome!].Definition;
        ImmutableArray<EstimateRow> rows = EstimateRows.Differences(fit.Coefficients, input.Terms, outcome.Unit);
        string slope = input.Question.RandomSlope is { } id ? $" and a slope over {Sentences.LowerFirst(input.Measures[id].Definition.Label)}" : string.Empty;
        return input.Result(
            Sentences.Answer(rows, input),
            $"Linear mixed model of {Sentences.LowerFirst(Labels.WithUnit(outcome))} with an intercept{slope} of its own for each {input.Protocol.Study.ParticipantWords.One} (REML; {fit.Coefficients.VarianceMethod}).") with
        {
            Estimates = rows,
            Growth = Pictures.GrowthLinesBuilder.Build(input, fit.Coefficients),
            Citations = [Sources.LairdWare, Sources.Satterthwaite],
            Diagnostics = [Diagnostics.PersonsPerParameter(input), .. Diagnostics.VarianceComponents(fit, input.Terms)],
        };
    }

    internal static List<RandomTerm> Terms(AnalysisInput input)
    {
        DesignMatrix? columns = null;
        if (input.Question.RandomSlope is { } slope)
        {
            ModelTerm term = input.Terms.Terms.First(t => t.Name == slope);
            columns = DesignMatrix.WithIntercept((slope, term.Values));
        }
        List<RandomTerm> terms = [new RandomTerm(input.Protocol.Study.ParticipantWords.One, input.Clusters(), columns)];
        if (input.Table.Level == RowLevel.UnitVisit)
            terms.Add(new RandomTerm(input.Protocol.Study.UnitWords!.One, Clusters.From([.. input.Table.Keys.Select(k => (k.Participant, k.Side))])));
        return terms;
    }
}
