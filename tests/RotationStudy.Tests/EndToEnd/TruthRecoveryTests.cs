using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>The pipeline, run on a large made-up cohort, finds the truth that the generator put there and no relation where there is none.</summary>
public sealed class TruthRecoveryTests : Workspace
{
    [Fact]
    public void A_large_cohort_gives_back_the_stated_rate_ratios_and_the_absence_of_a_relation_with_laxity()
    {
        Scenario scenario = DemoScenario.Read();
        CohortFolder.Write(new SimulatedCohort(scenario with { Cohort = scenario.Cohort with { Participants = 6000 } }, 11), At("exports"));
        StudyProtocol protocol = ProtocolReader.Read(Protocol);
        StudyResults results = StudyPipeline.Run(protocol, RecordChecker.Check(protocol, ExportReader.Read(At("exports"), protocol)), "test");

        // Standard errors of about 0.04 here; the shifts that synthetic-data/README.md names stay below 0.05.
        Assert.Equal(scenario.Events.LogPer10Anteversion, Exposures("Q5")[0].ModelValue, 0.12);
        Assert.Equal(scenario.Events.LogPer10Tibial, Exposures("Q5")[1].ModelValue, 0.12);
        Assert.All(Exposures("Q2"), e => Assert.True(Math.Abs(e.ModelValue) < 4 * e.ModelStandardError, $"{e.Label}: {e.ModelValue}"));
        Assert.Equal(0.85 * scenario.Symptoms.FunctionPer10Anteversion, Exposures("Q3")[0].ModelValue, 0.6);

        EstimateRow[] Exposures(string question)
            => [.. results.Questions.Single(q => q.Id == question).Estimates.Where(e => e.Role == "exposure")];
    }
}
