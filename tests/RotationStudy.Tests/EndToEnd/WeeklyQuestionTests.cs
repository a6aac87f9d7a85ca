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

/// <summary>A question of weeks: does pain follow the load of the week before, within the person? The truth is the generator's.</summary>
public sealed class WeeklyQuestionTests : Workspace
{
    [Fact]
    public void Pain_follows_the_load_of_the_week_before_by_the_amount_that_the_generator_put_there()
    {
        Scenario demo = DemoScenario.Read();
        Scenario diaries = demo with
        {
            Cohort = demo.Cohort with { Participants = 300 },
            Diary = demo.Diary with { KeptShare = 1, PainMean = 5, MissingDayShare = 0 },
        };
        CohortFolder.Write(new SimulatedCohort(diaries, 3), At("exports"));
        StudyProtocol shipped = ProtocolReader.Read(Protocol);
        QuestionDefinition weekly = shipped.Plan.Questions.Single(q => q.Id == "Q2") with
        {
            Id = "W",
            Rows = RowLevel.Week,
            Outcome = "weekly_pain",
            Exposures = [new ExposureTerm("load_before_within", 100, 0, null)],
            Adjustment = [new AdjustmentTerm("load_before_mean", 100, 0, null, "People who train more may hurt more or less.")],
        };
        StudyProtocol protocol = shipped with { Plan = shipped.Plan with { Questions = [weekly], Choices = [] }, Figures = [], Sites = null, Prediction = null };
        QuestionResult answer = StudyPipeline.Run(protocol, RecordChecker.Check(protocol, ExportReader.Read(At("exports"), protocol)), "test").Questions.Single();
        EstimateRow load = answer.Estimates.Single(e => e.Role == "exposure");
        Assert.Contains("weeks of 300 participants", answer.Answer);
        Assert.Equal(demo.Diary.PainPer100LoadLastWeek, load.ModelValue, 4 * load.ModelStandardError!.Value);
        Assert.InRange(load.ModelStandardError!.Value, 0.001, 0.05);
    }
}
