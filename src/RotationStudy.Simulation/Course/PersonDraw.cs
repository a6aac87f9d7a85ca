using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Course;

/// <summary>Draws what belongs to the person.</summary>
internal static class PersonDraw
{
    internal static PersonFactors Draw(Scenario scenario, NamedStreams streams)
    {
        CohortScenario cohort = scenario.Cohort;
        SiteScenario site = scenario.Sites[streams.Open("site").Pick([.. scenario.Sites.Select(s => s.Share)])];
        bool female = streams.Open("sex").Happens(cohort.FemaleShare);
        double age = streams.Open("age").NormalWithin(cohort.AgeMeanYears, cohort.AgeSdYears, cohort.YoungestYears, cohort.OldestYears);
        age = Math.Round(age, 1);
        double laxity = streams.Open("laxity liability").Normal(
            (female ? scenario.Laxity.FemaleDifference : 0) + (scenario.Laxity.PerYearOfAge * (age - 15)), 1);
        (string maturity, double height, double mass) = Body(scenario.Body, female, age, streams.Open("body"));
        bool prior = streams.Open("prior instability").Happens(cohort.PriorInstabilityShare);
        double frailty = streams.Open("frailty").UnitGamma(scenario.Events.FrailtyVariance);
        return new PersonFactors(site, female, age, maturity, height, mass, prior, laxity, frailty);
    }

    private static (string Maturity, double HeightCm, double MassKg) Body(BodyScenario body, bool female, double age, RandomDraws draws)
    {
        double closure = draws.Normal(female ? body.FemaleClosureYears : body.MaleClosureYears, body.ClosureSdYears);
        string maturity = "closing";
        if (age < closure - 1)
            maturity = "open";
        else if (age > closure + 1)
            maturity = "closed";
        double adult = draws.Normal(female ? body.FemaleHeightCm : body.MaleHeightCm, body.HeightSdCm);
        double height = Math.Round(adult - (body.GrowthCmPerYear * Math.Max(0, closure - age)));
        double index = draws.NormalWithin(body.MassIndexMean, body.MassIndexSd, 14, 36);
        return (maturity, height, Math.Round(index * height * height / 10_000, 1));
    }
}
