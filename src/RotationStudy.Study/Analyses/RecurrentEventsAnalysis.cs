using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Analyses.Pictures;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Every event of a unit where another event ends them: Ghosh and Lin's regression of the mean number, mean curves by group.</summary>
/// <remarks>
/// A covariate can lower the mean by fewer events or by an earlier end. So beside it stand the rate while nothing has ended
/// the events, and the hazard of what ends them.
/// </remarks>
internal static class RecurrentEventsAnalysis
{
    private const string Scale = "ratio of mean numbers";

    internal static QuestionResult Answer(AnalysisInput input)
    {
        RecurrentEvents histories = Histories(input);
        Clusters clusters = input.Clusters();
        GhoshLinFit fit = GhoshLin.Fit(histories, input.Design(), clusters);
        CoxFit rate = LinWeiYangYing.Fit(histories, input.Design(), clusters);
        string outcome = Sentences.LowerFirst(input.Measures[input.Question.Outcome!].Definition.Label);
        string ending = Sentences.LowerFirst(input.Measures[input.Question.Event!].Definition.Label);
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, Scale);
        (ImmutableArray<EstimateRow> endings, DiagnosticRow? noEndings) = Endings(input, histories, clusters);
        return input.Result(
            Sentences.Answer(rows, input),
            $"Ghosh and Lin's regression of the mean number of {outcome}, where {fit.TerminalEvents} of {input.RowsInWords(fit.Units)} ended ('{ending}') and count with no more events after that ({fit.Coefficients.VarianceMethod}). "
            + "Beside it: the rate while nothing has ended (Lin, Wei, Yang and Ying), and the hazard of that end (Cox); together they tell whether a mean differs by events or by an earlier end.") with
        {
            Counts = input.Counts(fit.Events, histories.Histories.Sum(h => h.End - h.Entry)),
            Estimates = rows,
            Beside = [.. EstimateRows.ExposureRatios(rate.Coefficients, input.Terms, "rate ratio while not ended"), .. endings],
            Citations = [Sources.GhoshLin, Sources.GhoshLinMean, Sources.LinWeiYangYing],
            Diagnostics =
            [
                Diagnostics.EventsPerParameter(fit.Events, rows.Length), .. Diagnostics.ProportionalHazards(rate, input),
                Diagnostics.Convergence(fit.Iterations), .. noEndings is null ? Array.Empty<DiagnosticRow>() : [noEndings],
            ],
            Warnings = [.. input.Terms.Omitted, .. rate.Warnings],
            Tables =
            [
                RisingTable.Build(
                    "mean-numbers", "Mean number of events with 95% interval", MeanEventCurves.OfCounts(CurveRows.Of(input).Input), input.Question.TimeUnit, v => v.ToString("0.00", CultureInfo.InvariantCulture),
                    $"Of all {input.Protocol.Study.UnitWords?.Many ?? input.Protocol.Study.ParticipantWords.Many} of a group, those that ended included: they count with the events that they had."),
            ],
        };
    }

    /// <summary>What happened to each row of the table, from time zero.</summary>
    internal static RecurrentEvents Histories(AnalysisInput input)
    {
        double unit = input.Question.TimeUnitDays;
        MeasureColumn outcome = input.Measures[input.Question.Outcome!];
        ImmutableArray<EventHistory?> histories = input.Measures.Histories[outcome.Definition.Id];
        ImmutableArray<double> ended = input.Values(input.Question.Event);
        return new RecurrentEvents([.. input.Table.Keys.Select(key => histories[outcome.Index.Find(key)]!).Select((h, row) => new UnitHistory(
            h.Entry / unit, h.End / unit, [.. h.Days.Select(d => d / unit)], ended[row] > 0))]);
    }

    internal static Coefficients Fit(AnalysisInput input, Clusters? clusters) => GhoshLin.Fit(Histories(input), input.Design(), clusters).Coefficients;

    /// <summary>The hazard of what ends the events; few ends give a sentence in place of numbers.</summary>
    private static (ImmutableArray<EstimateRow> Rows, DiagnosticRow? Failed) Endings(AnalysisInput input, RecurrentEvents histories, Clusters clusters)
    {
        try
        {
            CoxFit cox = CoxRegression.Fit(histories.TerminalTimes, input.Design(), clusters);
            return (EstimateRows.ExposureRatios(cox.Coefficients, input.Terms, "hazard ratio of the end"), null);
        }
        catch (StatisticsError error)
        {
            return ([], new DiagnosticRow("Hazard of the end", null, $"It cannot be estimated: {error.What}."));
        }
    }
}
