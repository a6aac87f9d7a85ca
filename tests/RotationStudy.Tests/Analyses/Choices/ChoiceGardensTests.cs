using RotationStudy.Study;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Analyses.Choices;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Analyses.Choices;

/// <summary>The choices of the demo plan. What a combination gives must be what its full analysis gives.</summary>
public sealed class ChoiceGardensTests : Workspace
{
    private static readonly StudyProtocol Plan = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
    private static readonly CheckedRecords Records = RecordChecker.Check(Plan, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), Plan));
    private static readonly StudyResults Results = StudyPipeline.Run(Plan, Records, "test");
    private static readonly ChoiceGarden Garden = Results.Gardens.Single(g => g.Question == "Q5");

    [Fact]
    public void Every_combination_is_there_once_and_the_first_is_the_planned_one()
    {
        Assert.True(Garden.Fits.Length >= 200);
        Assert.Equal(Garden.Decisions.Aggregate(1, (m, d) => m * d.Options.Length), Garden.Fits.Length);
        Assert.Equal(Garden.Fits.Length, Garden.Fits.Select(f => string.Join(',', f.Options)).Distinct().Count());
        Assert.All(Garden.Fits[0].Options, o => Assert.Equal(0, o));
    }

    [Fact]
    public void The_planned_combination_is_the_answer_of_the_question_to_the_digit()
    {
        QuestionResult answer = Results.Questions.Single(q => q.Id == "Q5");
        EstimateRow row = answer.Estimates.Single(e => e.Term == "anteversion");
        Assert.Equal(new ChoiceEstimate(row.Scale, row.Value, row.Lower, row.Upper, row.PValue), Garden.Fits[0].Estimate);
        Assert.Equal((answer.Counts.Participants, answer.Counts.Rows, answer.Counts.Events), (Garden.Fits[0].Participants, Garden.Fits[0].Rows, Garden.Fits[0].Events));
    }

    [Fact]
    public void Other_models_give_what_their_own_questions_give()
    {
        int model = Decision("Model");
        EstimateRow poisson = Results.Questions.Single(q => q.Id == "Q5").Beside.Single(e => e.Term == "anteversion");
        EstimateRow cox = Results.Questions.Single(q => q.Id == "Q6").Estimates.Single(e => e.Term == "anteversion");
        Assert.Equal(poisson.Value, Only((model, 1)).Estimate!.Value);
        Assert.Equal(cox.Value, Only((model, 2)).Estimate!.Value);
        Assert.Equal(cox.PValue, Only((model, 2)).Estimate!.PValue);
    }

    [Fact]
    public void A_sample_of_combinations_equals_the_full_analysis_of_the_changed_question()
    {
        ChoicePlan choices = Plan.Plan.Choices.Single();
        ChosenMeasures derived = new(Plan, Records, MeasureDeriver.Derive(Plan, Records));
        QuestionDefinition planned = Plan.Plan.Questions.Single(q => q.Id == choices.Question);
        foreach (ChoiceFit fit in Garden.Fits.Where((f, i) => i % 13 == 5 && f.Options[Decision("Model")] != 1))
        {
            ChoiceOption[] taken = [.. fit.Options.Select((o, d) => choices.Dimensions[d].Options[o])];
            (StudyProtocol protocol, DerivedMeasures measures) = derived.Under(taken);
            ChosenQuestion chosen = ChosenQuestion.Of(planned, choices.Exposure, taken);
            EstimateRow row = AnalysisRunner.Answer(protocol, measures, chosen.Question).Estimates.Single(e => e.Term == chosen.Exposure);
            Assert.Equal((row.Value, row.Lower, row.Upper), (fit.Estimate!.Value, fit.Estimate.Lower, fit.Estimate.Upper));
        }
    }

    [Fact]
    public void A_wider_merging_window_leaves_fewer_events_and_an_open_gate_more_knees()
    {
        int merging = Decision("Reports merged");
        Assert.True(Only((merging, 2)).Events < Garden.Fits[0].Events);
        Assert.True(Only((Decision("Hip gate"), 1), (Decision("Tibial torsion"), 1)).Rows > Only((Decision("Tibial torsion"), 1)).Rows);
        Assert.Equal(Garden.Fits[0].Estimate, Only((Decision("Hip gate"), 1)).Estimate);
    }

    [Fact]
    public void A_second_run_gives_the_same_numbers_whatever_the_cores_did()
    {
        ChoiceGarden again = ChoiceGardens.Build(Plan, Records, MeasureDeriver.Derive(Plan, Records)).Single();
        Assert.Equal(Garden.Fits.Select(f => f.Estimate), again.Fits.Select(f => f.Estimate));
        Assert.Equal(Garden.Sentence, again.Sentence);
        Assert.Equal(Garden.DifferentFits, again.DifferentFits);
    }

    [Fact]
    public void The_sentence_counts_what_the_fits_show()
    {
        int above = Garden.Fits.Count(f => f.Estimate is { Lower: > 1 });
        Assert.Equal(above, Garden.Holds);
        Assert.StartsWith($"In {above} of {Garden.Fits.Length} combinations ({Garden.DifferentFits} of them differ in rows or model) the whole 95% interval lies above 1", Garden.Sentence);
        Assert.Equal(Garden.Fits.Where(f => f.Estimate is not null).Select(f => f.Estimate).Distinct().Count(), Garden.DifferentFits);
    }

    [Fact]
    public void Where_nothing_can_be_fitted_every_combination_says_why()
    {
        CopyExport();
        Edit("events.csv", lines => lines[..1]);
        StudyResults results = StudyPipeline.Run(Plan, RecordChecker.Check(Plan, ExportReader.Read(At("exports"), Plan)), "test");
        ChoiceGarden garden = results.Gardens.Single();
        Assert.All(garden.Fits, f => Assert.Null(f.Estimate));
        Assert.All(garden.Fits, f => Assert.False(string.IsNullOrEmpty(f.NotFitted)));
        Assert.StartsWith("The planned combination could not be fitted (there are no events)", garden.Sentence);
    }

    private static int Decision(string name) => Garden.Decisions.ToList().FindIndex(d => d.Name == name);

    /// <summary>The combination that differs from the planned one in these decisions only.</summary>
    private static ChoiceFit Only(params (int Decision, int Option)[] taken)
    {
        int[] wanted = new int[Garden.Decisions.Length];
        foreach ((int decision, int option) in taken)
            wanted[decision] = option;
        return Garden.Fits.Single(f => f.Options.SequenceEqual(wanted));
    }
}
