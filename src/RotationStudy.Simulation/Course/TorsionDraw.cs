using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Course;

/// <summary>Draws the true torsion of both knees: a part shared by the person, a part of each side.</summary>
internal static class TorsionDraw
{
    internal static (TrueTorsion Left, TrueTorsion Right) Draw(Scenario scenario, PersonFactors person, NamedStreams streams)
    {
        TorsionScenario t = scenario.Torsion;
        (double femurLeft, double femurRight) = Correlated(streams.Open("anteversion"), t.AnteversionKneeCorrelation);
        (double tibiaLeft, double tibiaRight) = Correlated(streams.Open("tibial torsion"), t.TibialKneeCorrelation);
        double fall = Math.Max(0, streams.Open("anteversion fall").Normal(t.AnteversionFallPerYear, t.AnteversionFallSd));
        double yearsOfFall = Math.Max(0, t.GrowthEndYears - person.AgeYears);
        double mean = t.AnteversionMeanDegrees
            + (person.Female ? t.AnteversionFemaleDifference : 0)
            + (scenario.Laxity.AnteversionPerLiability * person.LaxityLiability)
            + (fall * yearsOfFall);
        double half = t.TibialRightMinusLeft / 2;
        return (Knee(femurLeft, tibiaLeft, -half), Knee(femurRight, tibiaRight, half));

        TrueTorsion Knee(double femur, double tibia, double side) => new(
            mean + (t.AnteversionSdDegrees * femur), fall, yearsOfFall, t.TibialMeanDegrees + side + (t.TibialSdDegrees * tibia));
    }

    private static (double Left, double Right) Correlated(RandomDraws draws, double correlation)
    {
        double shared = Math.Sqrt(correlation) * draws.Normal(0, 1);
        double own = Math.Sqrt(1 - correlation);
        return (shared + (own * draws.Normal(0, 1)), shared + (own * draws.Normal(0, 1)));
    }
}
