using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Recurrent;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Mean cumulative number of events by group, for questions that count events or follow them one by one.</summary>
internal static class MeanEventCurves
{
    /// <summary>For a question of a rate or of recurrent events: the rows of its table, with the days of the events counted and, where the question names it, whether another event ended them.</summary>
    internal static ImmutableArray<RisingCurves> OfCounts(AnalysisInput input)
    {
        if (!input.Measures.Histories.TryGetValue(input.Question.Outcome!, out ImmutableArray<EventHistory?> histories))
            return [];
        double scale = input.Question.TimeUnitDays;
        MeasureColumn count = input.Measures[input.Question.Outcome!];
        RowGroups groups = RowGroups.In(input.Table, Group(input));
        ImmutableArray<double>? ended = input.Question.Event is { } ending ? input.Values(ending) : null;
        List<(int Row, UnitHistory History)> rows = [];
        for (int row = 0; row < input.Table.Rows; row++)
        {
            if (groups.Of[row] >= 0 && count.Index.Find(input.Table.Keys[row]) is >= 0 and int source && histories[source] is { } h)
                rows.Add((row, new UnitHistory(h.Entry / scale, h.End / scale, [.. h.Days.Select(d => d / scale)], ended?[row] > 0)));
        }
        return Curves(input, rows, groups, count.Definition.Label);
    }

    /// <summary>For a question of all events: the intervals of each participant, joined.</summary>
    internal static ImmutableArray<RisingCurves> OfIntervals(AnalysisInput input)
    {
        double scale = input.Question.TimeUnitDays;
        RowGroups groups = RowGroups.In(input.Table, Group(input));
        ImmutableArray<double> entry = input.Values(input.Question.Entry), exit = input.Values(input.Question.Exit), happened = input.Values(input.Question.Event);
        List<(int Row, UnitHistory History)> rows = [];
        foreach (IGrouping<int, int> person in Enumerable.Range(0, input.Table.Rows).GroupBy(r => input.Table.Participants[r]))
        {
            int[] own = [.. person.OrderBy(r => entry[r])];
            // A person who is out of sight between two intervals, or changes group, is no single history.
            if (own.Zip(own.Skip(1)).All(p => exit[p.First] == entry[p.Second] && groups.Of[p.First] == groups.Of[p.Second]) && groups.Of[own[0]] >= 0)
                rows.Add((own[0], new UnitHistory(entry[own[0]] / scale, exit[own[^1]] / scale, [.. own.Where(r => happened[r] > 0).Select(r => exit[r] / scale)])));
        }
        return Curves(input, rows, groups, input.Measures[input.Question.Event!].Definition.Label);
    }

    private static MeasureColumn? Group(AnalysisInput input) => input.Question.GroupBy is { } by ? input.Measures[by] : null;

    private static ImmutableArray<RisingCurves> Curves(AnalysisInput input, List<(int Row, UnitHistory History)> rows, RowGroups groups, string label)
    {
        AnalysisTable table = input.Table;
        if (rows.Select(r => table.Participants[r.Row]).Distinct().Count() < 2)
            return [];
        double[] riskTimes = EventFreeCurves.RoundTimes(rows.Max(r => r.History.End));
        Clusters people = Clusters.From([.. rows.Select(r => table.Participants[r.Row])]);
        RecurrentEvents events = new([.. rows.Select(r => r.History)]);
        IReadOnlyList<MeanCumulativeCurve> curves = MeanCumulativeFunction.EstimateByGroup(events, [.. rows.Select(r => groups.Names[groups.Of[r.Row]])], people);
        string one = table.Level.HasSides() ? input.Protocol.Study.UnitWords!.One : input.Protocol.Study.ParticipantWords.One;
        return
        [
            new RisingCurves(
                label, $"Mean number of events per {one}: {Sentences.LowerFirst(label)}", false,
                $"Time since {(input.Question.Entry is null ? "enrolment" : "entry")} ({input.Question.TimeUnit ?? "time"})",
                people.Count, table.Level.HasSides() ? rows.Select(r => (table.Keys[r.Row].Participant, table.Keys[r.Row].Side)).Distinct().Count() : 0,
                $"Mean cumulative number of events ({(rows.Any(r => r.History.Terminal) ? "rows that ended count with no more events, Ghosh and Lin's estimate" : "Nelson's estimate")}); {curves[0].VarianceMethod}",
                [.. curves.OrderBy(c => groups.Names.IndexOf(c.Name)).Select(c => Curve(c, riskTimes, [.. rows.Where(r => groups.Names[groups.Of[r.Row]] == c.Name).Select(r => r.History)]))]),
        ];
    }

    private static RisingCurve Curve(MeanCumulativeCurve curve, double[] riskTimes, UnitHistory[] histories)
    {
        MeanStep[] steps = [.. curve.Steps.Where(s => s.Events > 0)];
        return new RisingCurve(
            curve.Name, curve.LastTime,
            [.. steps.Select(s => s.Time)], [.. steps.Select(s => s.Mean)],
            [.. steps.Select(s => s.Interval.Lower)], [.. steps.Select(s => s.Interval.Upper)],
            [.. riskTimes],
            [.. riskTimes.Select(t => histories.Count(h => (t == 0 ? h.Entry <= 0 : h.Entry < t) && h.End >= t))],
            [.. riskTimes.Select(t => histories.Sum(h => h.EventTimes.Count(e => e <= t)))])
        {
            Events = histories.Sum(h => h.EventTimes.Count),
        };
    }
}
