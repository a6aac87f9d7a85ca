using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Course;

/// <summary>Runs the event process of one knee: dislocations and subluxations at a rate that steps up after the first dislocation and down after an operation.</summary>
internal static class EventCourse
{
    private const double DaysPerYear = 365.25;
    private static readonly string[] OperationKinds = ["ligament_reconstruction", "tubercle_transfer", "derotation", "other"];
    private static readonly double[] OperationShares = [0.7, 0.15, 0.1, 0.05];

    /// <summary>Dislocations per year at enrolment.</summary>
    internal static double RatePerYear(EventScenario e, PersonFactors person, TrueTorsion torsion, bool prior)
        => (prior ? e.PriorRatePerYear : e.RatePerYear) * person.Frailty * Math.Exp(
            (e.LogPer10Anteversion * (torsion.AnteversionAtEnrolment - 20) / 10)
            + (e.LogPer10Tibial * (torsion.Tibial - 30) / 10)
            + (e.LogPerLaxity * person.LaxityLiability)
            + (e.LogPerYearOfAge * (person.AgeYears - 15))
            + (person.Female ? e.LogFemale : 0));

    /// <summary>Events from enrolment to the last day, in order; no two fall on one day.</summary>
    internal static List<KneeEvent> Run(EventScenario e, double ratePerYear, int lastDay, RandomDraws waits, RandomDraws operations)
    {
        List<KneeEvent> events = [];
        double rate = ratePerYear / DaysPerYear * (1 + e.SubluxationsPerDislocation);
        double dislocationShare = 1 / (1 + e.SubluxationsPerDislocation);
        int dislocations = 0;
        bool operated = false;
        double planned = double.PositiveInfinity;
        double now = 0;
        while (true)
        {
            double factor = (dislocations > 0 ? e.RecurrenceFactor : 1) * (operated ? e.OperationFactor : 1);
            double next = now + waits.Wait(rate * factor);
            if (planned <= next)
            {
                // The rate changes at the operation, so the wait is drawn afresh: a Poisson process has no memory.
                if (planned > lastDay)
                    return events;
                (now, operated, planned) = (planned, true, double.PositiveInfinity);
                events.Add(new KneeEvent(DayAfter(events, now), "operation", OperationKinds[operations.Pick(OperationShares)]));
                continue;
            }
            if (next > lastDay)
                return events;
            now = next;
            bool dislocation = waits.Happens(dislocationShare);
            events.Add(new KneeEvent(DayAfter(events, now), dislocation ? "dislocation" : "subluxation", "none"));
            if (!dislocation)
                continue;
            dislocations++;
            bool plans = operations.Happens(dislocations == 1 ? e.OperationAfterFirst : e.OperationAfterLater);
            if (plans && !operated && double.IsPositiveInfinity(planned))
                planned = now + e.ShortestWaitDays + operations.Wait(1 / e.MeanExtraWaitDays);
        }
    }

    private static int DayAfter(List<KneeEvent> events, double now)
    {
        int day = Math.Max(1, (int)Math.Ceiling(now));
        return events.Count > 0 ? Math.Max(day, events[^1].Day + 1) : day;
    }
}
