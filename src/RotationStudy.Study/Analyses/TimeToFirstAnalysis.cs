using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Time to the first event: Cox regression, Efron ties, variance by participant; curves by the planned groups.</summary>
internal static class TimeToFirstAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        SurvivalTimes times = Times(input);
        Clusters clusters = input.Clusters();
        ImmutableArray<EventFreeCurve> curves = EventFreeCurves.ByGroup(input);
        AnalysisCounts counts = input.Counts(times.EventCount, TimeAtRisk(input));
        if (input.Terms.Terms.Length == 0)
            return input.Result($"Curves only, from {input.RowsInWords()}.", string.Empty) with { Counts = counts, Curves = curves };
        try
        {
            CoxFit fit = CoxRegression.Fit(times, input.Design(), clusters);
            ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, "hazard ratio");
            return input.Result(
                Sentences.Answer(rows, input),
                $"Cox proportional-hazards regression for the time to the first event (Efron ties; {fit.Coefficients.VarianceMethod}, clustered by {input.Protocol.Study.ParticipantWords.One}).{Ends(input)}{Entry(input)}") with
            {
                Counts = counts,
                Estimates = rows,
                Curves = curves,
                Citations = [Sources.Cox, Sources.Efron, Sources.RobustCox, Sources.KaplanMeier],
                Diagnostics = [Diagnostics.EventsPerParameter(fit.Events, rows.Length), .. Diagnostics.ProportionalHazards(fit, input), Diagnostics.Convergence(fit.Iterations)],
                Warnings = [.. input.Terms.Omitted, .. fit.Warnings],
            };
        }
        catch (StatisticsError error)
        {
            // The curves stand on their own even where the regression cannot.
            return input.NotAnswered(error.What, error.Hint) with { Counts = counts, Curves = curves };
        }
    }

    /// <summary>What ends the time at risk, where the follow-up ends with an event of its own.</summary>
    private static string Ends(AnalysisInput input)
        => input.Measures[input.Question.Exit!].Definition is FirstEventDayMeasure exit
            && input.Measures[exit.FollowUp].Definition is FollowUpMeasure { Events: { } ending }
            ? $" The time at risk ends with the first {MeasureWords.Events(ending)} or the end of follow-up, so hazard ratios are cause-specific."
            : string.Empty;

    private static string Entry(AnalysisInput input)
        => input.Question.Entry is { } entry ? $" Rows come under observation on the {Sentences.LowerFirst(input.Measures[entry].Definition.Label)} and count from then on." : string.Empty;

    internal static SurvivalTimes Times(AnalysisInput input)
    {
        double scale = input.Question.TimeUnitDays;
        double[] exit = [.. input.Values(input.Question.Exit).Select(v => v / scale)];
        bool[] events = [.. input.Values(input.Question.Event).Select(v => v > 0)];
        return input.Question.Entry is null
            ? SurvivalTimes.RightCensored(exit, events)
            : SurvivalTimes.CountingProcess([.. input.Values(input.Question.Entry).Select(v => v / scale)], exit, events);
    }

    internal static double TimeAtRisk(AnalysisInput input)
    {
        double exit = input.Values(input.Question.Exit).Sum();
        double entry = input.Question.Entry is null ? 0 : input.Values(input.Question.Entry).Sum();
        return (exit - entry) / input.Question.TimeUnitDays;
    }
}
