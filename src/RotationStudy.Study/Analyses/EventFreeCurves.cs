using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Kaplan-Meier curves by the planned groups, with numbers at risk at round times.</summary>
internal static class EventFreeCurves
{
    private const int MostRiskTimes = 7;

    internal static ImmutableArray<EventFreeCurve> ByGroup(AnalysisInput input)
    {
        CurveRows drawn = CurveRows.Of(input);
        AnalysisInput rows = drawn.Input;
        if (rows.Table.Rows == 0)
            return [];
        double[] riskTimes = RoundTimes(rows.Values(input.Question.Exit).Max() / input.Question.TimeUnitDays);
        return [.. drawn.Names.Select(name => Curve(rows, Enumerable.Range(0, rows.Table.Rows).Where(r => drawn.Groups[r] == name), name, riskTimes))];
    }

    private static EventFreeCurve Curve(AnalysisInput input, IEnumerable<int> members, string name, double[] riskTimes)
    {
        int[] rows = [.. members];
        SurvivalTimes all = TimeToFirstAnalysis.Times(input);
        SurvivalTimes times = all.SelectRows(rows);
        SurvivalCurve curve = KaplanMeier.Estimate(times, Clusters.From([.. rows.Select(r => input.Table.Participants[r])]));
        // A row is at risk at t when it entered before t; at time 0 that would be nobody, so the table counts just after.
        double[] justAfterZero = [.. riskTimes.Select(t => t == 0 ? double.Epsilon : t)];
        return new EventFreeCurve(
            name,
            $"Time since {Origin(input)} ({input.Question.TimeUnit ?? "time"})",
            [0, .. curve.Steps.Select(s => s.Time)],
            [1, .. curve.Steps.Select(s => s.Survival)],
            [1, .. curve.Steps.Select(s => s.Interval.Lower)],
            [1, .. curve.Steps.Select(s => s.Interval.Upper)],
            [.. curve.CensoringTimes],
            [.. riskTimes],
            [.. curve.NumbersAtRisk(justAfterZero)],
            [.. riskTimes.Select(t => curve.Steps.Where(s => s.Time <= t).Sum(s => s.Events))],
            curve.VarianceMethod);
    }

    /// <summary>What times are counted from: enrolment, or the event after which something is waited for.</summary>
    private static string Origin(AnalysisInput input)
        => input.Measures[input.Question.Exit!].Definition is AfterMeasure after ? $"the first {MeasureWords.Events(after.Origin)}" : "enrolment";

    /// <summary>Round times from 0 to the end, at most a handful.</summary>
    internal static double[] RoundTimes(double end)
    {
        double step = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(end, 1e-9) / MostRiskTimes)));
        foreach (double factor in (double[])[1, 2, 5, 10, 20])
        {
            int count = (int)Math.Floor((end / (step * factor)) + 1e-9) + 1;
            if (count <= MostRiskTimes)
                return [.. Enumerable.Range(0, count).Select(i => Math.Round(i * step * factor, 9))];
        }
        return [0];
    }
}
