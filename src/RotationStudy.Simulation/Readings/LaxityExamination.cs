using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>Reads the laxity components at visits: each side of a person has its own lasting angle, around which readings scatter.</summary>
internal sealed class LaxityExamination(Scenario scenario, PersonFactors person, NamedStreams streams)
{
    private readonly LaxityScenario laxity = scenario.Laxity;
    private readonly RandomDraws draws = streams.Open("laxity components");
    private readonly RandomDraws losses = streams.Open("lost laxity readings");

    internal IEnumerable<LaxityExam> Examine(IReadOnlyList<AttendedVisit> visits)
    {
        (double Left, double Right) finger = Sides(laxity.LittleFinger);
        (double Left, double Right) elbow = Sides(laxity.Elbow);
        (double Left, double Right) knee = Sides(laxity.Knee);
        bool trunk = draws.HappensAtLogOdds(laxity.TrunkLogOdds + (laxity.TrunkLogOddsPerLiability * person.LaxityLiability));
        (bool Left, bool Right) thumb = (Thumb(), Thumb());
        foreach (AttendedVisit visit in visits)
        {
            string rater = person.Site.Raters[(int)(draws.Uniform() * person.Site.Raters.Count)];
            yield return new LaxityExam(
                visit.Visit, rater, Kept(trunk ? 1 : 0), (Kept(thumb.Left ? 1 : 0), Kept(thumb.Right ? 1 : 0)),
                Read(finger, laxity.LittleFinger, 20, 130), Read(elbow, laxity.Elbow, -20, 30), Read(knee, laxity.Knee, -15, 30));
        }
    }

    private (double Left, double Right) Sides(LaxityAngleScenario angle)
    {
        double mean = angle.MeanDegrees + (angle.PerLiability * person.LaxityLiability);
        return (draws.Normal(mean, angle.SideSd), draws.Normal(mean, angle.SideSd));
    }

    private bool Thumb() => draws.HappensAtLogOdds(laxity.ThumbLogOdds + (laxity.ThumbLogOddsPerLiability * person.LaxityLiability));

    private (Reading Left, Reading Right) Read((double Left, double Right) truth, LaxityAngleScenario angle, double lowest, double highest)
    {
        return (One(truth.Left), One(truth.Right));

        Reading One(double value)
        {
            double written = RaterErrors.Written(draws.Normal(value, angle.ReadingSd), scenario.Exam.HeapingShare, draws);
            return Kept(Math.Clamp(written, lowest, highest));
        }
    }

    private Reading Kept(double value) => Reading.OrLost(value, losses, scenario.Imperfections);
}
