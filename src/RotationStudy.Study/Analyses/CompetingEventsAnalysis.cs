using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Analyses.Pictures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Time to the first of several events that exclude each other: Fine-Gray regression of the first named, cause-specific Cox regression beside it, cumulative incidence by group.</summary>
/// <remarks>The event measure's first code is none; the second is the event asked about; the others compete with it.</remarks>
internal static class CompetingEventsAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        CompetingTimes times = Times(input);
        FineGrayFit fit = FineGray.Fit(times, 1, input.Design(), input.Clusters());
        CoxFit specific = CoxRegression.Fit(times.CauseSpecific(1), input.Design(), input.Clusters());
        ImmutableArray<EstimateRow> rows = EstimateRows.Ratios(fit.Coefficients, input.Terms, "subdistribution hazard ratio");
        ImmutableArray<CodeDefinition> codes = input.Measures[input.Question.Event!].Codes;
        string competing = Sentences.List(codes.Skip(2).Select(c => c.Meaning));
        string model = $"Fine-Gray regression of the time to {codes[1].Meaning}, with {competing} competing ({fit.Coefficients.VarianceMethod}). "
            + "The ratio orders the cumulative incidences; it is no ratio of rates among those still at risk. "
            + $"Beside it: cause-specific Cox regression, which takes {competing} as the end of the time at risk.";
        CurveRows curveRows = CurveRows.Of(input);
        return input.Result(Sentences.Answer(rows, input), model) with
        {
            Counts = input.Counts(fit.Events, TimeToFirstAnalysis.TimeAtRisk(input)),
            Estimates = rows,
            Beside = EstimateRows.ExposureRatios(specific.Coefficients, input.Terms, "cause-specific hazard ratio"),
            Citations = [Sources.FineGray, Sources.AalenJohansen, Sources.Gray],
            Diagnostics =
            [
                Diagnostics.EventsPerParameter(fit.Events, rows.Length), .. Diagnostics.ProportionalHazards(specific, input),
                Competition(input, fit, competing), .. GrayTestLine(curveRows), Diagnostics.Convergence(fit.Iterations),
            ],
            Warnings = [.. input.Terms.Omitted, .. specific.Warnings],
            Tables =
            [
                RisingTable.Build(
                    "incidence", "Cumulative incidence with 95% interval (Aalen-Johansen)", IncidenceCurves.Of(curveRows), input.Question.TimeUnit,
                    v => string.Create(CultureInfo.InvariantCulture, $"{100 * v:0.0}%"),
                    "Each has one first event, so the incidences of all events and the share without one add up to 100%."),
            ],
        };
    }

    internal static CompetingTimes Times(AnalysisInput input)
        => CompetingTimes.RightCensored(
            [.. input.Values(input.Question.Exit).Select(v => v / input.Question.TimeUnitDays)],
            [.. input.Values(input.Question.Event).Select(v => (int)v)]);

    private static DiagnosticRow Competition(AnalysisInput input, FineGrayFit fit, string competing)
        => new("Competing events", null, fit.CompetingEvents == 0
            ? $"Of {input.RowsInWords(fit.Rows)} none ended with {competing} before the event, so nothing competed: the ratio is that of a time to a first event."
            : $"{fit.CompetingEvents} of {input.RowsInWords(fit.Rows)} ended with {competing} before the event.");

    private static IEnumerable<DiagnosticRow> GrayTestLine(CurveRows rows)
    {
        if (rows.Names.Length < 2)
            yield break;
        const string check = "Incidence between groups";
        string words;
        try
        {
            words = $"Gray's test that the groups have one cumulative incidence: {Sentences.PValue(GrayTest.Test(Times(rows.Input), 1, rows.Groups, rows.Input.Clusters()).PValue)} (clustered).";
        }
        catch (StatisticsError error)
        {
            words = $"Gray's test cannot be made: {error.What}.";
        }
        yield return new DiagnosticRow(check, null, words);
    }
}
