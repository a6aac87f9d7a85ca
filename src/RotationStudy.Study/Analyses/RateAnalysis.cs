using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>A count over follow-up: negative binomial regression with log follow-up as offset and variance by participant; Poisson beside.</summary>
internal static class RateAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        double[] counts = [.. input.Values(input.Question.Outcome)];
        double scale = input.Question.TimeUnitDays;
        double[] time = [.. input.Values(input.Question.FollowUp).Select(v => v / scale)];
        double[] offset = [.. time.Select(t => Math.Log(t))];
        double events = counts.Sum();
        if (events == 0)
            return input.NotAnswered("there are no events", "Follow the cohort for longer, or describe the upper limit of the rate.") with { Counts = input.Counts(0, time.Sum()) };
        DesignMatrix design = input.DesignWithIntercept();
        Clusters clusters = input.Clusters();
        NegativeBinomialFit fit = NegativeBinomialRegression.Fit(design, counts, offset, clusters);
        GeneralizedLinearFit poisson = PoissonRegression.Fit(design, counts, offset, clusters);
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Regression.Coefficients, input.Terms, "rate ratio");
        MeasureDefinition outcome = input.Measures[input.Question.Outcome!].Definition;
        return input.Result(
            Sentences.Answer(rows, input),
            $"Negative binomial regression of {Sentences.LowerFirst(outcome.Label)} with the log of follow-up as offset (maximum likelihood; {fit.Regression.Coefficients.VarianceMethod}, clustered by {input.Protocol.Study.ParticipantWords.One}). Beside it: Poisson regression with the same robust variance.") with
        {
            Counts = input.Counts((int)events, time.Sum()),
            Estimates = rows,
            Beside = EstimateRows.ExposureRatios(poisson.Coefficients, input.Terms, "rate ratio"),
            Citations = [Sources.NegativeBinomial, Sources.LiangZeger],
            Diagnostics = [Diagnostics.EventsPerParameter((int)events, rows.Length), Diagnostics.Dispersion(fit, poisson), Diagnostics.Convergence(fit.Regression.Iterations)],
            Warnings = [.. input.Terms.Omitted, .. fit.Regression.Warnings],
        };
    }
}
