using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Course;

/// <summary>Walks through the visit schedule: who comes, what they report, and who drops out (more likely with pain).</summary>
internal sealed class VisitCourse(Scenario scenario, NamedStreams streams, SymptomCourse symptoms)
{
    private static readonly string[] Reasons = ["withdrawn", "lost", "moved"];
    private static readonly double[] ReasonShares = [0.2, 0.6, 0.2];

    private readonly RandomDraws calendar = streams.Open("visit days");
    private readonly RandomDraws leaving = streams.Open("drop-out");
    private readonly RandomDraws forms = streams.Open("missing forms");

    /// <summary>The planned last day of this person: people are enrolled evenly over time and the study closes on one day.</summary>
    internal static int PlannedLastDay(FollowUpScenario f, NamedStreams streams)
        => (int)Math.Round(365.25 * streams.Open("enrolment time").Between(f.ShortestYears, f.LongestYears));

    internal (EndOfFollowUp End, List<AttendedVisit> Visits) Walk(int plannedLastDay)
    {
        List<AttendedVisit> visits = [];
        double pain = 0;
        for (int i = 0; i < scenario.Visits.Count; i++)
        {
            int day = DayOf(i);
            if (day <= plannedLastDay && (i == 0 || !calendar.Happens(scenario.FollowUp.MissedVisitShare)))
            {
                (double function, pain, double activity) = symptoms.At(day);
                visits.Add(Attended(scenario.Visits[i].Visit, day, function, pain, activity));
            }
            int from = Math.Max(day, scenario.Visits[i].Day);
            int until = i + 1 < scenario.Visits.Count ? scenario.Visits[i + 1].Day : plannedLastDay;
            if (LeavesBetween(from, Math.Min(until, plannedLastDay), pain) is { } lastDay)
                return (new EndOfFollowUp(lastDay, Reasons[leaving.Pick(ReasonShares)]), visits);
        }
        int last = Math.Max(plannedLastDay, visits[^1].Day);
        return (new EndOfFollowUp(last, "study_end"), visits);
    }

    private int DayOf(int visit)
    {
        if (visit == 0)
            return 0;
        double spread = calendar.NormalWithin(0, scenario.FollowUp.VisitDaySd, -45, 45);
        double late = calendar.Happens(scenario.Imperfections.LateVisitShare) ? calendar.Between(65, 120) : 0;
        return scenario.Visits[visit].Day + (int)Math.Round(late > 0 ? late : spread);
    }

    private int? LeavesBetween(int from, int until, double pain)
    {
        if (until <= from)
            return null;
        FollowUpScenario f = scenario.FollowUp;
        double wait = 365.25 * leaving.Wait(f.DropOutPerYear * Math.Exp(f.DropOutLogPerPainPoint * pain));
        return wait < until - from ? from + (int)wait : null;
    }

    private AttendedVisit Attended(string visit, int day, double function, double pain, double activity)
    {
        bool hasForm = !forms.Happens(scenario.Imperfections.MissingFormShare);
        return new AttendedVisit(visit, day, Kept(function), Kept(pain), Kept(activity), hasForm);

        Reading Kept(double value) => Reading.OrLost(value, forms, scenario.Imperfections);
    }
}
