using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>How the events of a knee reach the records: from the day of entry on, and some dislocations twice.</summary>
/// <remarks>A second report tells of the same dislocation some days later, as when emergency room and clinic both send a form.</remarks>
internal static class EventReports
{
    /// <summary>The knee with its day of entry and its reports.</summary>
    internal static SimulatedKnee Of(SimulatedKnee knee, ReportScenario scenario, int lastContactDay, NamedStreams streams)
    {
        int entry = EntryDay(knee, scenario, lastContactDay, streams.Open($"entry {knee.Side}"));
        RandomDraws again = streams.Open($"second reports {knee.Side}");
        List<KneeEvent> reports = [];
        foreach (KneeEvent happened in knee.Events)
        {
            bool twice = again.Happens(scenario.SecondReportShare);
            int later = happened.Day + (int)Math.Ceiling(again.Between(0, scenario.SecondReportLatestDays));
            if (happened.Day <= entry)
                continue;
            reports.Add(happened);
            if (happened.Kind == "dislocation" && twice && later <= lastContactDay && later > happened.Day)
                reports.Add(happened with { Day = later });
        }
        return knee with { EntryDay = entry, Reports = [.. reports.OrderBy(r => r.Day)] };
    }

    private static int EntryDay(SimulatedKnee knee, ReportScenario scenario, int lastContactDay, RandomDraws draws)
    {
        bool late = draws.Happens(scenario.LateEntryShare);
        int day = (int)draws.Between(scenario.LateEntryEarliestDays, scenario.LateEntryLatestDays);
        return late && !knee.PriorInstability && day < lastContactDay ? day : 0;
    }
}
