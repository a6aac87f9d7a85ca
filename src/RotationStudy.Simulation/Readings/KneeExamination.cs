using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>Examines a person's knees at visits: hips first, then the rotational profile tied to the true torsion, then the patella.</summary>
internal sealed class KneeExamination(Scenario scenario, PersonFactors person, NamedStreams streams, RaterErrors raters)
{
    private readonly ExamScenario exam = scenario.Exam;
    private readonly RandomDraws hips = streams.Open("hips");
    private readonly RandomDraws angles = streams.Open("angles");
    private readonly RandomDraws patella = streams.Open("patella");
    private readonly RandomDraws losses = streams.Open("lost readings");

    /// <summary>The rows of all visits.</summary>
    internal IEnumerable<KneeExam> Examine(IReadOnlyList<SimulatedKnee> knees, IReadOnlyList<AttendedVisit> visits)
    {
        RandomDraws choice = streams.Open("raters");
        HipArc[] arcs = [.. knees.Select(_ => DrawArc())];
        bool twoRaters = choice.Happens(scenario.Cohort.SecondRaterShare);
        foreach (AttendedVisit visit in visits)
        {
            int first = (int)(choice.Uniform() * person.Site.Raters.Count);
            string[] team = visit.Day == 0 && twoRaters
                ? [person.Site.Raters[first], person.Site.Raters[(first + 1) % person.Site.Raters.Count]]
                : [person.Site.Raters[first]];
            for (int k = 0; k < knees.Count; k++)
            {
                string finding = HipFinding();
                foreach (string rater in team)
                    yield return Row(visit, knees[k], arcs[k], rater, finding);
            }
        }
    }

    /// <summary>What a hip adds to its femur, degrees: shift of the middle and of the width of its arc.</summary>
    private readonly record struct HipArc(double Middle, double Width);

    private HipArc DrawArc() => new(angles.Normal(0, exam.MidpointSd), angles.Normal(0, exam.ArcSd));

    private string HipFinding()
    {
        double at = hips.Uniform();
        if ((at -= exam.PainfulHipShare) < 0)
            return "painful";
        if ((at -= exam.RestrictedHipShare) < 0)
            return "restricted";
        return at < exam.HipNotExaminedShare ? "not_examined" : "free";
    }

    private KneeExam Row(AttendedVisit visit, SimulatedKnee knee, HipArc arc, string rater, string finding)
    {
        double anteversion = knee.Torsion.AnteversionOn(visit.Day) - 20;
        double tibial = knee.Torsion.Tibial - 33;
        double middle = exam.MidpointDegrees + (exam.MidpointPerAnteversion * anteversion) + arc.Middle;
        double halfWidth = (exam.ArcDegrees + (exam.ArcPerLaxity * person.LaxityLiability) + arc.Width) / 2;
        double loss = finding is "painful" or "restricted" ? exam.HipFindingLossDegrees : 0;
        Reading inward = Angle(middle + halfWidth - loss, 0, 100);
        Reading outward = Angle(halfWidth - middle, 0, 100);
        if (finding == "not_examined")
            (inward, outward) = (Reading.NotDone, Reading.NotDone);
        return new KneeExam(
            visit.Visit, knee.Side, rater, finding, inward, outward,
            // The clinical angle underestimates large anteversion, as it does against imaging.
            TrochantericProminence: Angle(18 + (0.8 * anteversion), -20, 60),
            ThighFootAngle: Angle(10 + (0.5 * tibial), -50, 70),
            TransmalleolarAxis: Angle(20 + (0.8 * tibial), -30, 80),
            FootProgression: Angle(8 - (0.3 * anteversion) + (0.3 * tibial), -50, 50),
            PatellarGlide: Kept(Math.Clamp(Math.Round(1.6 + (0.4 * person.LaxityLiability) + (knee.PriorInstability ? 0.7 : 0) + patella.Normal(0, 0.6)), 0, 4)),
            Apprehension: Kept(patella.HappensAtLogOdds(knee.PriorInstability ? 0.7 : -2.2) ? 1 : 0),
            TrackingSign: Tracking(knee));

        Reading Angle(double truth, double lowest, double highest)
            => Kept(Math.Clamp(raters.Read(truth, rater, angles), lowest, highest));
    }

    private string Tracking(SimulatedKnee knee)
    {
        double[] shares = knee.PriorInstability ? [0.45, 0.33, 0.2, 0.02] : [0.82, 0.14, 0.03, 0.01];
        return patella.Pick(shares) switch { 0 => "none", 1 => "small", 2 => "large", _ => "unable" };
    }

    private Reading Kept(double value) => Reading.OrLost(value, losses, scenario.Imperfections);
}
