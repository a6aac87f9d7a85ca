using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>A yes/no outcome compared within participants: conditional logistic regression, each participant a matched set.</summary>
/// <remarks>Whatever both sides of a person share, measured or not, cancels; so do participants whose rows all have the same outcome.</remarks>
internal static class WithinPersonAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        ConditionalLogisticFit fit = Fit(input);
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, "odds ratio");
        string people = input.Protocol.Study.ParticipantWords.Count(fit.ContributingSets);
        string model = string.Create(
            CultureInfo.InvariantCulture,
            $"Conditional logistic regression with each {input.Protocol.Study.ParticipantWords.One} as a matched set (conditional maximum likelihood; {fit.Coefficients.VarianceMethod}). Only the {fit.ContributingRows} rows of {people} with both outcomes tell; what the rows of one person share cancels.");
        return input.Result(Sentences.Answer(rows, input), model) with
        {
            Counts = input.Counts(fit.Cases),
            Estimates = rows,
            Citations = [Sources.BreslowDay],
            Diagnostics = [Diagnostics.EventsPerParameter(fit.ContributingSets, rows.Length), Diagnostics.Convergence(fit.Iterations)],
            Warnings = [.. input.Terms.Omitted, .. fit.Warnings],
        };
    }

    internal static ConditionalLogisticFit Fit(AnalysisInput input)
        => ConditionalLogisticRegression.Fit(input.Design(), input.Values(input.Question.Outcome).AsSpan(), input.Clusters());
}
