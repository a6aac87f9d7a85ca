using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>One row of a rater sub-study.</summary>
/// <param name="Session">1 or 2.</param>
/// <param name="Side">L or R.</param>
/// <param name="Rater">Who examined.</param>
/// <param name="Angles">Internal rotation, external rotation, trochanteric prominence, thigh-foot angle, degrees.</param>
internal sealed record RaterReading(int Session, char Side, string Rater, Reading[] Angles);

/// <summary>Lets every rater examine both sides of a person at two sessions.</summary>
internal sealed class RaterSession(RaterStudyScenario study, ExamScenario exam, int seed)
{
    internal const int Sessions = 2;
    private const int AngleCount = 4;
    private readonly Dictionary<(string Rater, int Angle, int Session), double> constant = Constants(study, seed);

    internal IEnumerable<RaterReading> Examine(SimulatedParticipant person, NamedStreams streams)
    {
        RandomDraws sides = streams.Open("rater study sides");
        RandomDraws draws = streams.Open("rater study readings");
        foreach (SimulatedKnee knee in person.Knees)
        {
            double[] lasting = Lasting(person, knee, sides);
            for (int session = 1; session <= Sessions; session++)
            {
                double[] today = [.. lasting.Select(a => draws.Normal(a, study.DaySd))];
                foreach (string rater in study.Raters)
                    yield return new RaterReading(session, knee.Side, rater, [.. today.Select((a, i) => Read(a, i, rater, session, draws))]);
            }
        }
    }

    private double[] Lasting(SimulatedParticipant person, SimulatedKnee knee, RandomDraws sides)
    {
        double anteversion = knee.Torsion.AnteversionAtEnrolment - 20;
        double middle = exam.MidpointDegrees + (exam.MidpointPerAnteversion * anteversion) + sides.Normal(0, exam.MidpointSd);
        double half = (exam.ArcDegrees + (exam.ArcPerLaxity * person.Person.LaxityLiability) + sides.Normal(0, exam.ArcSd)) / 2;
        return
        [
            middle + half, half - middle,
            study.ProminenceDegrees + (study.ProminencePerAnteversion * anteversion) + sides.Normal(0, study.ProminenceSideSd),
            10 + (0.5 * (knee.Torsion.Tibial - 33)),
        ];
    }

    private Reading Read(double truth, int angle, string rater, int session, RandomDraws draws)
    {
        double value = truth + constant[(rater, angle, 0)] + constant[(rater, angle, session)] + draws.Normal(0, study.ReadingSd);
        double written = RaterErrors.Written(value, study.HeapingShare, draws);
        return draws.Happens(study.NotRecordedShare) ? Reading.NotRecorded : Reading.Of(Math.Clamp(written, -25, 110));
    }

    /// <summary>A rater's constant error of each angle (session 0), and what each session adds.</summary>
    private static Dictionary<(string, int, int), double> Constants(RaterStudyScenario study, int seed)
    {
        Dictionary<(string, int, int), double> constants = [];
        foreach (string rater in study.Raters)
        {
            RandomDraws draws = NamedStreams.Shared(seed).Open($"rater study {rater}");
            for (int angle = 0; angle < AngleCount; angle++)
            {
                constants.Add((rater, angle, 0), draws.Normal(0, study.RaterSd));
                for (int session = 1; session <= Sessions; session++)
                    constants.Add((rater, angle, session), draws.Normal(0, study.SessionSd));
            }
        }
        return constants;
    }
}
