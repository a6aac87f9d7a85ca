using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Share that has reached each milestone by a time after the event: one minus the Kaplan-Meier curve of those still waiting.</summary>
internal static class MilestonesReached
{
    private const double Beyond = 1.15;

    internal static MilestoneCurves Build(FigureDefinition figure, StudyProtocol protocol, DerivedMeasures measures)
    {
        List<(string Name, SurvivalCurve Curve)> curves = [];
        HashSet<int> people = [];
        HashSet<(int, int)> units = [];
        WaitedFor[] waits = [.. figure.Measures.Select(id => measures.Waits.First(w => w.Time.Definition.Id == id))];
        foreach (WaitedFor wait in waits)
        {
            int[] rows = [.. Enumerable.Range(0, wait.Reached.Index.Rows).Where(r => wait.Reached.HasValue(r) && wait.Watched.HasValue(r))];
            RowKey[] keys = [.. rows.Select(r => wait.Reached.Index.Keys[r])];
            people.UnionWith(keys.Select(k => k.Participant));
            units.UnionWith(keys.Select(k => (k.Participant, k.Side)));
            if (keys.Select(k => k.Participant).Distinct().Count() < Math.Max(2, protocol.Study.SmallestPrintedCount))
                continue;
            curves.Add((wait.Time.Definition.Label, KaplanMeier.Estimate(
                SurvivalTimes.RightCensored([.. rows.Select(r => wait.Watched.Values[r])], [.. rows.Select(r => wait.Reached.Values[r] > 0)]),
                Clusters.From([.. keys.Select(k => k.Participant)]))));
        }
        // Watching goes on for years after the last milestone; the curves end a little after it.
        double end = curves.Count == 0 ? 1 : Math.Min(
            curves.Max(c => c.Curve.LastTime), Beyond * curves.Max(c => c.Curve.Steps.Where(s => s.Events > 0).Select(s => s.Time).DefaultIfEmpty(c.Curve.LastTime).Max()));
        ImmutableArray<double> riskTimes = [.. EventFreeCurves.RoundTimes(end)];
        string rowsAre = protocol.Study.UnitWords?.Many ?? protocol.Study.ParticipantWords.Many;
        string unit = waits[0].Time.Definition.Unit ?? "time";
        return new MilestoneCurves(figure.Id, new RisingCurves(
            "Milestones", $"{char.ToUpperInvariant(rowsAre[0])}{rowsAre[1..]} that have reached it", true,
            $"Time since the {MeasureWords.Events(((AfterMeasure)waits[0].Time.Definition).Origin)} ({unit})",
            people.Count, protocol.Study.UnitWords is null ? 0 : units.Count,
            "One minus the Kaplan-Meier curve of those still waiting, watched to the end of their follow-up; variance clustered by person",
            [.. curves.Select(c => Curve(c.Name[CommonStart([.. curves.Select(x => x.Name)])..], c.Curve, riskTimes, end))]));
    }

    /// <summary>Length of the words with which all names begin, such as "Weeks to "; beside each other they say nothing.</summary>
    private static int CommonStart(string[] names)
    {
        int common = 0;
        while (names.Length > 1 && names.All(n => n.Length > common + 1 && n[common] == names[0][common]))
            common++;
        return names.Length > 1 ? names[0].LastIndexOf(' ', Math.Max(0, common - 1)) + 1 : 0;
    }

    private static RisingCurve Curve(string name, SurvivalCurve curve, ImmutableArray<double> riskTimes, double end)
    {
        SurvivalStep[] steps = [.. curve.Steps.Where(s => s.Events > 0)];
        return new RisingCurve(
            name, steps is [.., { Survival: 0 }] ? end : Math.Min(end, curve.LastTime),
            [.. steps.Select(s => s.Time)], [.. steps.Select(s => 1 - s.Survival)],
            [.. steps.Select(s => 1 - s.Interval.Upper)], [.. steps.Select(s => 1 - s.Interval.Lower)],
            riskTimes, [.. curve.NumbersAtRisk([.. riskTimes.Select(t => t == 0 ? double.Epsilon : t)])],
            [.. riskTimes.Select(t => steps.Where(s => s.Time <= t).Sum(s => s.Events))])
        {
            Events = steps.Sum(s => s.Events),
        };
    }
}
