using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Time to the first of several events that exclude each other: Fine-Gray regression of the first named, cause-specific Cox regression beside it, cumulative incidence by group.</summary>
/// <remarks>The event measure's first code is none; the second is the event asked about; the others compete with it.</remarks>
internal static class CompetingEventsAnalysis
{
    private const int MostIncidenceTimes = 6;

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
        return input.Result(Sentences.Answer(rows, input), model) with
        {
            Counts = input.Counts(fit.Events, TimeToFirstAnalysis.TimeAtRisk(input)),
            Estimates = rows,
            Beside = EstimateRows.ExposureRatios(specific.Coefficients, input.Terms, "cause-specific hazard ratio"),
            Citations = [Sources.FineGray, Sources.AalenJohansen, Sources.Gray],
            Diagnostics = [Diagnostics.EventsPerParameter(fit.Events, rows.Length), .. Diagnostics.ProportionalHazards(specific, input), .. GrayTestLine(input, times)],
            Warnings = [.. input.Terms.Omitted, .. specific.Warnings],
            Tables = [Incidence(input, times, codes)],
        };
    }

    internal static CompetingTimes Times(AnalysisInput input)
        => CompetingTimes.RightCensored(
            [.. input.Values(input.Question.Exit).Select(v => v / input.Question.TimeUnitDays)],
            [.. input.Values(input.Question.Event).Select(v => (int)v)]);

    /// <summary>The group of each row in words; null where there are no groups or some row has none.</summary>
    internal static string[]? Groups(AnalysisInput input)
    {
        if (input.Question.GroupBy is not { } id)
            return null;
        MeasureColumn measure = input.Measures[id];
        int[] found = [.. input.Table.Keys.Select(measure.Index.Find)];
        return found.All(r => r >= 0 && measure.HasValue(r)) ? [.. found.Select(r => measure.Codes[(int)measure.Values[r]].Meaning)] : null;
    }

    private static IEnumerable<DiagnosticRow> GrayTestLine(AnalysisInput input, CompetingTimes times)
    {
        if (Groups(input) is not { } groups || groups.Distinct().Count() < 2)
            yield break;
        TestResult test = GrayTest.Test(times, 1, groups, input.Clusters());
        yield return new DiagnosticRow("Incidence between groups", null, $"Gray's test that the groups have one cumulative incidence: {Sentences.PValue(test.PValue)} (clustered).");
    }

    private static ResultTable Incidence(AnalysisInput input, CompetingTimes times, ImmutableArray<CodeDefinition> codes)
    {
        string[] groups = Groups(input) ?? [.. Enumerable.Repeat("All", times.Rows)];
        double[] at = [.. EventFreeCurves.RoundTimes(times.AnyCause.Exit.ToArray().Max()).Skip(1).Take(MostIncidenceTimes)];
        List<TableRow> rows = [];
        for (int cause = 1; cause < codes.Length; cause++)
        {
            rows.Add(new TableRow([new TableCell(codes[cause].Meaning, null), .. at.Select(_ => new TableCell(string.Empty, null))], 0));
            foreach (CumulativeIncidenceCurve curve in AalenJohansen.EstimateByGroup(times, cause, groups, input.Clusters()))
                rows.Add(new TableRow([new TableCell(curve.Name, null), .. at.Select(t => Cell(curve, t))], 1));
        }
        return new ResultTable(
            "incidence", "Cumulative incidence with 95% interval (Aalen-Johansen)",
            ["Event", .. at.Select(t => string.Create(CultureInfo.InvariantCulture, $"{t:0.##} {input.Question.TimeUnit}"))],
            [.. rows], ["Each person has one first event, so the incidences of all events and the share without one add up to 100 %."]);
    }

    private static TableCell Cell(CumulativeIncidenceCurve curve, double time)
    {
        if (time > curve.LastTime)
            return new TableCell("–", null);
        IncidenceStep step = curve.At(time);
        return new TableCell(
            string.Create(CultureInfo.InvariantCulture, $"{100 * step.Incidence:0.0} % ({100 * step.Interval.Lower:0.0} to {100 * step.Interval.Upper:0.0})"),
            step.Incidence);
    }
}
