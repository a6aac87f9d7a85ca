using System.Collections.Immutable;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Cumulative incidence of each of the competing events, by group, with numbers at risk at round times.</summary>
internal static class IncidenceCurves
{
    internal static ImmutableArray<RisingCurves> Of(CurveRows drawn)
    {
        if (drawn.Names.Length == 0)
            return [];
        AnalysisInput input = drawn.Input;
        CompetingTimes times = CompetingEventsAnalysis.Times(input);
        ImmutableArray<CodeDefinition> codes = input.Measures[input.Question.Event!].Codes;
        double[] riskTimes = EventFreeCurves.RoundTimes(times.AnyCause.Exit.ToArray().Max());
        string rows = input.Protocol.Study.UnitWords?.Many ?? input.Protocol.Study.ParticipantWords.Many;
        return
        [
            .. Enumerable.Range(1, codes.Length - 1).Select(cause =>
            {
                IReadOnlyList<CumulativeIncidenceCurve> curves = AalenJohansen.EstimateByGroup(times, cause, drawn.Groups, input.Clusters());
                return new RisingCurves(
                    codes[cause].Meaning, $"{char.ToUpperInvariant(rows[0])}{rows[1..]} with {Sentences.LowerFirst(codes[cause].Meaning)}", true,
                    $"Time since enrolment ({input.Question.TimeUnit ?? "time"})",
                    input.Table.ParticipantCount, input.Table.UnitCount, $"Aalen-Johansen, other events competing; {curves[0].VarianceMethod}",
                    [.. curves.OrderBy(c => Array.IndexOf(drawn.Names, c.Name)).Select(c => Curve(c, riskTimes))]);
            }),
        ];
    }

    private static RisingCurve Curve(CumulativeIncidenceCurve curve, double[] riskTimes)
    {
        // A row is at risk at t when it entered before t; at time 0 that would be nobody, so the table counts just after.
        double[] justAfterZero = [.. riskTimes.Select(t => t == 0 ? double.Epsilon : t)];
        IncidenceStep[] steps = [.. curve.Steps.Where(s => s.Events > 0)];
        return new RisingCurve(
            curve.Name, curve.LastTime,
            [.. steps.Select(s => s.Time)], [.. steps.Select(s => s.Incidence)],
            [.. steps.Select(s => s.Interval.Lower)], [.. steps.Select(s => s.Interval.Upper)],
            [.. riskTimes], [.. curve.NumbersAtRisk(justAfterZero)],
            [.. riskTimes.Select(t => steps.Where(s => s.Time <= t).Sum(s => s.Events))])
        {
            Events = steps.Sum(s => s.Events),
        };
    }
}
