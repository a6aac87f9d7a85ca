using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation;

/// <summary>A made-up cohort whose truth is known: the disease course of every person, and what a clinic would have recorded.</summary>
/// <remarks>
/// <para>The course: person factors (age, sex, laxity, frailty); torsion of four bones, correlated between the sides,
/// anteversion falling until the end of growth; dislocations and subluxations of each knee by a log-linear rate; operations
/// after dislocations; symptoms that follow torsion and recent events; visits; drop-out that grows with pain; milestones after
/// operations. The record: readings with the errors of raters, imaging, forms, missing cells and slips of the pen; late entry
/// of knees and events reported twice; diaries and tracking curves of some.</para>
/// <para>It knows the columns of an export and the parameters of the truth, and neither measures nor analyses: what the
/// pipeline recovers from it was not put there by the pipeline.</para>
/// <para>A participant depends on (scenario, seed, running number) only; participants can be drawn in any order, on any number of threads.</para>
/// </remarks>
/// <param name="scenario">The numbers behind the cohort.</param>
/// <param name="seed">Seed.</param>
public sealed class SimulatedCohort(Scenario scenario, int seed)
{
    private readonly RaterErrors raters = new(scenario, seed);
    private readonly int digits = Math.Max(3, scenario.Cohort.Participants.ToString(CultureInfo.InvariantCulture).Length);

    /// <summary>The numbers behind the cohort.</summary>
    public Scenario Scenario { get; } = scenario;

    /// <summary>Seed.</summary>
    public int Seed { get; } = seed;

    /// <summary>Draws one participant.</summary>
    /// <param name="number">Running number, from 1 to the scenario's number of participants.</param>
    public SimulatedParticipant Participant(int number)
    {
        NamedStreams streams = new(Seed, number);
        PersonFactors person = PersonDraw.Draw(Scenario, streams);
        int plannedLastDay = VisitCourse.PlannedLastDay(Scenario.FollowUp, streams);
        (TrueTorsion Left, TrueTorsion Right) torsion = TorsionDraw.Draw(Scenario, person, streams);
        SimulatedKnee[] planned = RunEvents(person, torsion, plannedLastDay, streams);
        SymptomCourse symptoms = new(Scenario.Symptoms, person, torsion, planned.SelectMany(k => k.Events), streams);
        (EndOfFollowUp end, List<AttendedVisit> visits) = new VisitCourse(Scenario, streams, symptoms).Walk(plannedLastDay);
        SimulatedKnee[] knees = [.. planned.Select(k => UntilLastContact(k, end.LastContactDay, streams))];
        return new SimulatedParticipant(
            person.Site.Site + "-" + number.ToString("D" + digits, CultureInfo.InvariantCulture),
            person, [.. knees], end, [.. visits],
            [.. new KneeExamination(Scenario, person, streams, raters).Examine(knees, visits)],
            [.. new LaxityExamination(Scenario, person, streams).Examine(visits)],
            [.. ImagingVisit.Read(Scenario, person, knees, end.LastContactDay, streams)],
            [.. ItemForms.FillIn(Scenario.Items, visits, streams)],
            [.. PainSignForms.FillIn(Scenario.PainSigns, knees, visits, streams)],
            [.. Diary.Keep(Scenario, end.LastContactDay, streams)],
            [.. TrackingCurves.Record(Scenario, knees, streams)]);
    }

    /// <summary>Draws all participants, one after the other.</summary>
    public IEnumerable<SimulatedParticipant> Participants()
        => Enumerable.Range(1, Scenario.Cohort.Participants).Select(Participant);

    private SimulatedKnee[] RunEvents(
        PersonFactors person, (TrueTorsion Left, TrueTorsion Right) torsion, int plannedLastDay, NamedStreams streams)
    {
        RandomDraws history = streams.Open("unstable side");
        bool both = history.Happens(Scenario.Cohort.PriorInBothShare);
        bool right = history.Happens(0.5);
        return [Knee('L', torsion.Left, both || !right), Knee('R', torsion.Right, both || right)];

        SimulatedKnee Knee(char side, TrueTorsion bones, bool affected)
        {
            bool prior = person.PriorInstability && affected;
            double rate = EventCourse.RatePerYear(Scenario.Events, person, bones, prior);
            List<KneeEvent> events = EventCourse.Run(
                Scenario.Events, rate, plannedLastDay, streams.Open($"events {side}"), streams.Open($"operations {side}"));
            return new SimulatedKnee(side, prior, bones, rate, [.. events], [], 0, []);
        }
    }

    private SimulatedKnee UntilLastContact(SimulatedKnee knee, int lastContactDay, NamedStreams streams)
    {
        ImmutableArray<KneeEvent> events = [.. knee.Events.Where(e => e.Day <= lastContactDay)];
        RandomDraws recovery = streams.Open($"recovery {knee.Side}");
        SimulatedKnee seen = knee with
        {
            Events = events,
            Milestones = Recovery.After(events, lastContactDay, Scenario.Events.ReturnToSportShare, recovery),
        };
        return EventReports.Of(seen, Scenario.Reports, lastContactDay, streams);
    }
}
