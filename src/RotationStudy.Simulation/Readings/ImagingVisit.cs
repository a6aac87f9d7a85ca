using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>Images a part of the persons soon after enrolment, a few of them again two years later; both knees at a time.</summary>
internal static class ImagingVisit
{
    private const int RepeatAfterDays = 731;
    private static readonly string[] Grades = ["a", "b", "c", "d"];
    private static readonly double[] GradeShares = [0.4, 0.3, 0.2, 0.1];

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
        Anatomy[] anatomy = [.. knees.Select(k => Anatomy.Draw(imaging, k, values))];
        for (int k = 0; k < knees.Count; k++)
        {
            for (int number = 1; number <= (again ? 2 : 1); number++)
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
                    anatomy[k].Grade);
            }
        }

        Reading Kept(double value, int decimals, double lowest, double highest)
            => Reading.OrLost(Math.Round(Math.Clamp(value, lowest, highest), decimals), losses, scenario.Imperfections);
    }

    /// <summary>What a knee's lasting anatomy is, beyond torsion.</summary>
    private readonly record struct Anatomy(double Tubercle, double PatellarHeight, string Grade)
    {
        internal static Anatomy Draw(ImagingScenario imaging, SimulatedKnee knee, RandomDraws draws)
        {
            double tubercle = draws.Normal(imaging.TubercleMeanMm + (knee.PriorInstability ? imaging.TuberclePriorDifference : 0), imaging.TubercleSdMm);
            double height = draws.Normal(imaging.PatellarHeightMean, imaging.PatellarHeightSd);
            bool dysplastic = draws.Happens(knee.PriorInstability ? imaging.DysplasiaPriorShare : imaging.DysplasiaShare);
            int grade = draws.Pick(GradeShares);
            return new Anatomy(tubercle, height, dysplastic ? Grades[grade] : "none");
        }
    }
}
