using System.Collections.Immutable;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Every event of a participant: the Andersen-Gill counting-process form of Cox regression, variance by participant.</summary>
internal static class AllEventsAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        SurvivalTimes times = TimeToFirstAnalysis.Times(input);
        CoxFit fit = CoxRegression.Fit(times, input.Design(), input.Clusters());
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, "rate ratio");
        return input.Result(
            Sentences.Answer(rows, input),
            $"Andersen-Gill regression of all events on the time scale since entry (Efron ties; {fit.Coefficients.VarianceMethod}, clustered by {input.Protocol.Study.ParticipantWords.One}).") with
        {
            Counts = input.Counts(fit.Events, TimeToFirstAnalysis.TimeAtRisk(input)),
            Estimates = rows,
            Citations = [Sources.AndersenGill, Sources.Efron, Sources.RobustCox],
            Diagnostics = [Diagnostics.EventsPerParameter(fit.Events, rows.Length), .. Diagnostics.ProportionalHazards(fit, input), Diagnostics.Convergence(fit.Iterations)],
            Warnings = [.. input.Terms.Omitted, .. fit.Warnings],
        };
    }
}
