using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>
/// Images a part of the persons soon after enrolment, a few of them again two years later, both knees at a time; and of those
/// some knees after their first dislocation, at the joint only, without torsion.
/// </summary>
internal static class ImagingVisit
{
    private const int RepeatAfterDays = 731;
    private const double TiltReadingSd = 1.5;
    private static readonly string[] Grades = ["a", "b", "c", "d"];
    private static readonly double[] GradeShares = [0.4, 0.3, 0.2, 0.1];
    private static readonly string[] Lesions = ["superficial", "partial", "deep", "full"];
    private static readonly double[] LesionShares = [0.4, 0.3, 0.2, 0.1];

    internal static IEnumerable<ImagingReading> Read(
        Scenario scenario, PersonFactors person, IReadOnlyList<SimulatedKnee> knees, int lastContactDay, NamedStreams streams)
    {
        ImagingScenario imaging = scenario.Imaging;
        RandomDraws choice = streams.Open("imaging");
        RandomDraws values = streams.Open("imaging values");
        RandomDraws losses = streams.Open("lost imaging readings");
        if (!choice.Happens(imaging.ImagedShare))
            yield break;
        bool again = choice.Happens(imaging.RepeatedShare);
        string modality = choice.Happens(imaging.TomographyShare) ? "ct" : "mri";
        bool other = choice.Happens(person.Site.OtherMethodShare);
        int firstDay = (int)choice.Between(0, 60);
        Anatomy[] anatomy = [.. knees.Select(k => Anatomy.Draw(imaging, k, values, streams))];
        RandomDraws tilts = streams.Open("tilt values");
        RandomDraws tiltLosses = streams.Open("lost tilt readings");
        for (int k = 0; k < knees.Count; k++)
        {
            int number = 1;
            for (; number <= (again ? 2 : 1); number++)
            {
                int day = firstDay + ((number - 1) * RepeatAfterDays);
                if (day > lastContactDay)
                    break;
                double anteversion = knees[k].Torsion.AnteversionOn(day);
                // The methods differ more where there is more torsion.
                double shift = other ? imaging.OtherMethodOffset + (0.1 * (anteversion - 20)) : 0;
                yield return new ImagingReading(
                    knees[k].Side, number, day, modality, other ? "jarrett" : "murphy",
                    Kept(values.Normal(anteversion + shift, imaging.ReadingSd), 0, -25, 75),
                    Kept(values.Normal(knees[k].Torsion.Tibial, imaging.ReadingSd), 0, -5, 75),
                    Kept(values.Normal(anatomy[k].Tubercle, 1), 1, 0, 35),
                    Kept(values.Normal(anatomy[k].PatellarHeight, 0.04), 2, 0.6, 1.9),
                    anatomy[k].Grade, Tilt(anatomy[k]), anatomy[k].Lesion);
            }
            if (InjuryImageDay(imaging, knees[k], lastContactDay, streams) is { } injuryDay)
            {
                RandomDraws joint = streams.Open($"injury image values {knees[k].Side}");
                yield return new ImagingReading(
                    knees[k].Side, number, injuryDay, "mri", "NA", Reading.NotDone, Reading.NotDone,
                    Reading.Of(Math.Round(Math.Clamp(joint.Normal(anatomy[k].Tubercle, 1), 0, 35), 1)),
                    Reading.Of(Math.Round(Math.Clamp(joint.Normal(anatomy[k].PatellarHeight, 0.04), 0.6, 1.9), 2)),
                    anatomy[k].Grade, Tilt(anatomy[k]), anatomy[k].Lesion);
            }
        }

        Reading Tilt(Anatomy knee) => Reading.OrLost(
            Math.Round(Math.Clamp(tilts.Normal(knee.Tilt, TiltReadingSd), -10, 55)), tiltLosses, scenario.Imperfections);

        Reading Kept(double value, int decimals, double lowest, double highest)
            => Reading.OrLost(Math.Round(Math.Clamp(value, lowest, highest), decimals), losses, scenario.Imperfections);
    }

    /// <summary>The day on which a knee is imaged after its first reported dislocation, or null.</summary>
    private static int? InjuryImageDay(ImagingScenario imaging, SimulatedKnee knee, int lastContactDay, NamedStreams streams)
    {
        RandomDraws draws = streams.Open($"injury image {knee.Side}");
        if (!draws.Happens(imaging.InjuryImageShare) || knee.Reports.FirstOrDefault(e => e.Kind == "dislocation") is not { } dislocation)
            return null;
        int day = dislocation.Day + 1 + (int)draws.Wait(1 / imaging.InjuryImageMeanWaitDays);
        return day <= lastContactDay ? day : null;
    }

    /// <summary>What a knee's lasting anatomy is, beyond torsion.</summary>
    private readonly record struct Anatomy(double Tubercle, double PatellarHeight, string Grade, double Tilt, string Lesion)
    {
        internal static Anatomy Draw(ImagingScenario imaging, SimulatedKnee knee, RandomDraws draws, NamedStreams streams)
        {
            double tubercle = draws.Normal(imaging.TubercleMeanMm + (knee.PriorInstability ? imaging.TuberclePriorDifference : 0), imaging.TubercleSdMm);
            double height = draws.Normal(imaging.PatellarHeightMean, imaging.PatellarHeightSd);
            bool dysplastic = draws.Happens(knee.PriorInstability ? imaging.DysplasiaPriorShare : imaging.DysplasiaShare);
            int grade = draws.Pick(GradeShares);
            RandomDraws joint = streams.Open($"joint {knee.Side}");
            double tilt = joint.Normal(imaging.TiltMeanDegrees + (knee.PriorInstability ? imaging.TiltPriorDifference : 0), imaging.TiltSdDegrees);
            bool lesion = joint.Happens(knee.PriorInstability ? imaging.CartilagePriorShare : imaging.CartilageShare);
            int depth = joint.Pick(LesionShares);
            return new Anatomy(tubercle, height, dysplastic ? Grades[grade] : "none", tilt, lesion ? Lesions[depth] : "none");
        }
    }
}
