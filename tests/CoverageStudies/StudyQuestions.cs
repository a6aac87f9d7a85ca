using RotationStudy.Simulation.Scenarios;
using RotationStudy.Statistics;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.CoverageStudies;

/// <summary>The questions of the shipped plan on simulated cohorts: known truth, and no truth once exposures are permuted between persons.</summary>
internal static class StudyQuestions
{
    private const int Persons = 150;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(CoverageRunner.FindRoot(), "protocols", "patellar-instability"));
        Scenario plain = SimulatedAnswers.Plain(Persons, 0), frail = SimulatedAnswers.Plain(Persons, 0.5);
        SimulatedAnswers known = new(plain, protocol, permuted: false);
        SimulatedAnswers frailty = new(frail, protocol, permuted: false);
        SimulatedAnswers nothing = new(frail, protocol, permuted: true);
        double log = plain.Events.LogPer10Anteversion;
        return
        [
            Study("Q2 mean, laxity on anteversion (no relation)", 0, known, "Q2"),
            Study("Q3 mean, function on anteversion of one knee", FunctionOfOneKnee(plain), known, "Q3"),
            Study("Q4 odds of ever dislocating, no frailty, target by the large cohort", Limit(plain, protocol, "Q4"), known, "Q4"),
            Study("Q5 rate, no frailty", log, known, "Q5"),
            Study("Q6 time to first, no frailty", log, known, "Q6"),
            Study("Q4 odds, frailty variance 0.5, target by the large cohort", Limit(frail, protocol, "Q4"), frailty, "Q4"),
            Study("Q5 rate, frailty variance 0.5", log, frailty, "Q5"),
            Study("Q6 time to first, frailty variance 0.5, against the conditional truth", log, frailty, "Q6"),
            Study("Q6 time to first, frailty variance 0.5, target by the large cohort", Limit(frail, protocol, "Q6"), frailty, "Q6"),
            .. SimulatedAnswers.Questions.Select(q => Study($"{q} with exposures permuted between persons", 0, nothing, q)),
        ];
    }

    /// <summary>Function follows the mean of both knees; a regression on one finds (1 + correlation of the two) / 2 of it.</summary>
    internal static double FunctionOfOneKnee(Scenario scenario)
        => scenario.Symptoms.FunctionPer10Anteversion * (1 + scenario.Torsion.AnteversionKneeCorrelation) / 2;

    /// <summary>What the model finds in a cohort so large that chance is small: its own target where no closed form has one.</summary>
    private static double Limit(Scenario scenario, StudyProtocol protocol, string question)
        => new SimulatedAnswers(scenario with { Cohort = scenario.Cohort with { Participants = 12_000 } }, protocol, permuted: false)
            .Anteversion(question, 7)!.ModelValue;

    private static CoverageStudy Study(string name, double truth, SimulatedAnswers answers, string question)
        => new(name, Persons, truth, random =>
        {
            EstimateRow row = answers.Anteversion(question, random.Next())
                ?? throw new TooFewDataError("this cohort gives no estimate", "Draw another.");
            bool ratio = row.NoEffect == 1;
            ConfidenceInterval interval = ratio ? new(Math.Log(row.Lower), Math.Log(row.Upper), 0.95) : new(row.Lower, row.Upper, 0.95);
            return new Estimate(row.Term, row.ModelValue, row.ModelStandardError ?? double.NaN, row.DegreesOfFreedom ?? double.PositiveInfinity, interval, row.PValue);
        });
}
