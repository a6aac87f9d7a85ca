using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Choices;

/// <summary>The estimate of one exposure by the same model and variance as the full answer, without its diagnostics and tables.</summary>
/// <remarks>A test holds the first combination equal to the answer of the question, so that the two cannot drift apart.</remarks>
internal static class ChosenFit
{
    /// <summary>The estimate's row and the events behind it.</summary>
    /// <exception cref="StatisticsError">The data do not allow the fit.</exception>
    internal static (EstimateRow Row, int Events) Fit(AnalysisInput input, string exposure, CountDistribution counts)
    {
        ModelTerm term = input.Terms.Terms.First(t => t.Measure == exposure && t.Role == "exposure");
        switch (input.Question.Kind)
        {
            case QuestionKind.Mean:
                Coefficients linear = LinearRegression.Fit(input.DesignWithIntercept(), input.Values(input.Question.Outcome)).ClusterRobust(input.Clusters());
                return (Difference(linear, term, input), 0);
            case QuestionKind.Odds:
                return Odds(input, term);
            case QuestionKind.Rate:
                return Rate(input, term, counts);
            case QuestionKind.TimeToFirst or QuestionKind.AllEvents:
                CoxFit cox = CoxRegression.Fit(TimeToFirstAnalysis.Times(input), input.Design(), input.Clusters());
                return (Ratio(cox.Coefficients, term, input.Question.Kind == QuestionKind.AllEvents ? "rate ratio" : "hazard ratio"), cox.Events);
            default:
                // Every other kind is carried out in full; it takes longer, and there is only one place to keep right.
                QuestionResult answer = AnalysisRunner.Answer(input.Protocol, input.Measures, input.Question);
                return (answer.Estimates.FirstOrDefault(e => e.Term == term.Name) ?? throw new TooFewDataError(answer.Answer, "See the question's own answer."), answer.Counts.Events);
        }
    }

    private static (EstimateRow Row, int Events) Odds(AnalysisInput input, ModelTerm term)
    {
        ImmutableArray<double> outcome = input.Values(input.Question.Outcome);
        int events = outcome.Count(v => v > 0);
        try
        {
            return (Ratio(LogisticRegression.Fit(input.DesignWithIntercept(), outcome.AsSpan(), input.Clusters()).Coefficients, term, "odds ratio"), events);
        }
        catch (SeparationError)
        {
            FirthFit firth = FirthLogisticRegression.Fit(input.DesignWithIntercept(), outcome.AsSpan());
            Estimate profile = firth.Profile[firth.Coefficients.IndexOf(term.Name)];
            return (EstimateRows.Row(profile, term, "odds ratio", null, 1, Math.Exp, "penalised likelihood, profile interval"), events);
        }
    }

    private static (EstimateRow Row, int Events) Rate(AnalysisInput input, ModelTerm term, CountDistribution counts)
    {
        ImmutableArray<double> observed = input.Values(input.Question.Outcome);
        double[] offset = [.. input.Values(input.Question.FollowUp).Select(v => Math.Log(v / input.Question.TimeUnitDays))];
        int events = (int)observed.Sum();
        if (events == 0)
            throw new TooFewDataError("there are no events", "Follow the cohort for longer.");
        Coefficients coefficients = counts == CountDistribution.Poisson
            ? PoissonRegression.Fit(input.DesignWithIntercept(), observed.AsSpan(), offset, input.Clusters()).Coefficients
            : NegativeBinomialRegression.Fit(input.DesignWithIntercept(), observed.AsSpan(), offset, input.Clusters()).Regression.Coefficients;
        return (Ratio(coefficients, term, "rate ratio"), events);
    }

    private static EstimateRow Ratio(Coefficients coefficients, ModelTerm term, string scale)
        => EstimateRows.Row(coefficients.Estimate(term.Name), term, scale, null, 1, Math.Exp, coefficients.VarianceMethod);

    private static EstimateRow Difference(Coefficients coefficients, ModelTerm term, AnalysisInput input)
        => EstimateRows.Row(
            coefficients.Estimate(term.Name), term, "difference", input.Measures[input.Question.Outcome!].Definition.Unit, 0, v => v, coefficients.VarianceMethod);
}
