using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Simulation.Exports;

/// <summary>The file that says what is true: seed, every number of the scenario, and what the cohort turned out to hold.</summary>
internal static class Truth
{
    internal static byte[] ToJson(SimulatedCohort cohort, CohortCounts counts)
        => TruthText.Of(new Content(
            TruthText.Note, cohort.Seed, Effects.Of(cohort.Scenario), counts, cohort.Scenario));

    private sealed record Content(string Note, int Seed, Effects Effects, CohortCounts Held, Scenario Scenario);

    /// <summary>The effects that analyses of the cohort look for, as ratios and differences.</summary>
    /// <param name="RateRatioPer10DegreesOfAnteversion">Rate of dislocation, per knee.</param>
    /// <param name="RateRatioPer10DegreesOfTibialTorsion">Rate of dislocation, per knee.</param>
    /// <param name="RateRatioPerSdOfLaxity">Rate of dislocation, per standard deviation of the liability.</param>
    /// <param name="RateRatioPerYearOfAge">Rate of dislocation.</param>
    /// <param name="RateRatioFemale">Rate of dislocation, female against male.</param>
    /// <param name="FunctionPer10DegreesOfAnteversion">Function score, per 10 degrees in the mean of both knees.</param>
    /// <param name="FunctionPer10DegreesOfTibialTorsion">Function score, per 10 degrees in the mean of both knees.</param>
    /// <param name="PainPer100LoadOfLastWeek">Points of pain, within a person.</param>
    /// <param name="ShiftAtExtensionPriorMm">Lateral shift at extension, knees unstable before enrolment against the others.</param>
    /// <param name="AnteversionPerSdOfLaxity">Degrees; 0 says that laxity and anteversion are unrelated but for sex and age.</param>
    private sealed record Effects(
        double RateRatioPer10DegreesOfAnteversion, double RateRatioPer10DegreesOfTibialTorsion, double RateRatioPerSdOfLaxity,
        double RateRatioPerYearOfAge, double RateRatioFemale, double FunctionPer10DegreesOfAnteversion,
        double FunctionPer10DegreesOfTibialTorsion, double PainPer100LoadOfLastWeek, double ShiftAtExtensionPriorMm,
        double AnteversionPerSdOfLaxity)
    {
        internal static Effects Of(Scenario s) => new(
            Ratio(s.Events.LogPer10Anteversion), Ratio(s.Events.LogPer10Tibial), Ratio(s.Events.LogPerLaxity),
            Ratio(s.Events.LogPerYearOfAge), Ratio(s.Events.LogFemale), s.Symptoms.FunctionPer10Anteversion,
            s.Symptoms.FunctionPer10Tibial, s.Diary.PainPer100LoadLastWeek, s.Tracking.ExtensionShiftPriorMm, s.Laxity.AnteversionPerLiability);

        private static double Ratio(double log) => Math.Round(Math.Exp(log), 6);
    }
}
