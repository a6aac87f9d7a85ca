using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>Kaplan-Meier curves by the planned groups, with numbers at risk at round times.</summary>
internal static class EventFreeCurves
{
    private const int MostRiskTimes = 7;

    internal static ImmutableArray<EventFreeCurve> ByGroup(AnalysisInput input)
    {
        // Curves need a time and a group, not the covariates of the model.
        IEnumerable<string?> needed = [input.Question.Entry, input.Question.Exit, input.Question.Event, input.Question.GroupBy];
        AnalysisTable table = TableBuilder.Build(input.Measures, input.Question.Rows, [.. needed.OfType<string>()], input.Question.Keep);
        AnalysisInput rows = input with { Table = table };
        if (table.Rows == 0)
            return [];
        double[] riskTimes = RoundTimes(rows.Values(input.Question.Exit).Max() / input.Question.TimeUnitDays);
        if (input.Question.GroupBy is not { } groupBy)
            return [Curve(rows, Enumerable.Range(0, table.Rows), string.Empty, riskTimes)];
        MeasureColumn group = table[groupBy].Measure;
        ImmutableArray<double> codes = table[groupBy].Values;
        ImmutableArray<EventFreeCurve>.Builder curves = ImmutableArray.CreateBuilder<EventFreeCurve>();
        for (int code = 0; code < group.Codes.Length; code++)
        {
            int[] members = [.. Enumerable.Range(0, table.Rows).Where(r => codes[r] == code)];
            if (members.Length > 0)
                curves.Add(Curve(rows, members, group.Codes[code].Meaning, riskTimes));
        }
        return curves.ToImmutable();
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
            $"Time since enrolment ({input.Question.TimeUnit ?? "time"})",
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
