using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.FaultStudies;

/// <summary>The demo scenario without the slips that it makes on purpose, with or without its rounding of readings to fives.</summary>
internal static class CleanScenario
{
    internal static Scenario Of(Scenario demo, int participants, bool rounding) => demo with
    {
        Exam = rounding ? demo.Exam : demo.Exam with { HeapingShare = 0 },
        Cohort = demo.Cohort with { Participants = participants },
        Imperfections = demo.Imperfections with { LostDecimalPointShare = 0, LateVisitShare = 0 },
    };
}
