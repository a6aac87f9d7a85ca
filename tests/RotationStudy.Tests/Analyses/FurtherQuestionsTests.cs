using System.Collections.Immutable;
using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Analyses;

/// <summary>Further questions of the demo plan equal the bare call of Statistics, and say what they rest on.</summary>
public sealed class FurtherQuestionsTests
{
    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
    private static readonly DerivedMeasures Measures = MeasureDeriver.Derive(
        Protocol, RecordChecker.Check(Protocol, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), Protocol)));

    [Fact]
    public void All_events_until_an_operation_equal_the_bare_fits()
    {
        QuestionResult answer = AnalysisRunner.Answer(Protocol, Measures, Question("Q16"));
        AnalysisInput input = Input(Question("Q16"));
        RecurrentEvents histories = RecurrentEventsAnalysis.Histories(input);
        Assert.Equal(input.Values("dislocations").Sum(), histories.EventCount);
        Assert.Equal(input.Values("operated").Sum(), histories.Histories.Count(h => h.Terminal));
        Assert.Equal(GhoshLin.Fit(histories, input.Design(), input.Clusters()).Coefficients.Estimate("anteversion").Value, answer.Estimates[0].ModelValue, 1e-12);
        EstimateRow rate = answer.Beside.First(b => b.Scale == "rate ratio while not ended");
        Assert.Equal(LinWeiYangYing.Fit(histories, input.Design(), input.Clusters()).Coefficients.Estimate("anteversion").PValue, rate.PValue, 1e-12);
        EstimateRow ending = answer.Beside.First(b => b.Scale == "hazard ratio of the end");
        Assert.Equal(CoxRegression.Fit(histories.TerminalTimes, input.Design(), input.Clusters()).Coefficients.Estimate("anteversion").Value, ending.ModelValue, 1e-12);
    }

    [Fact]
    public void Curves_of_recurrent_events_count_ended_rows_with_no_more_events()
    {
        QuestionResult answer = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q16") with { GroupBy = null });
        AnalysisInput drawn = CurveRows.Of(Input(Question("Q16") with { GroupBy = null })).Input;
        Assert.True(drawn.Table.Rows > answer.Counts.Rows);
        MeanCumulativeCurve bare = MeanCumulativeFunction.Estimate(RecurrentEventsAnalysis.Histories(drawn), drawn.Clusters());
        RisingCurve curve = Assert.Single(Assert.Single(answer.Rising).Curves);
        Assert.Equal(bare.Steps[^1].Mean, curve.Value[^1], 1e-12);
        Assert.Equal(bare.Steps[^1].Interval.Upper, curve.Upper[^1], 1e-12);
    }

    [Fact]
    public void A_split_hazard_equals_the_fits_of_the_two_parts_where_nothing_is_shared()
    {
        QuestionDefinition question = Question("Q6") with { Adjustment = [] };
        AnalysisInput input = Input(question);
        QuestionResult split = SplitHazards.Answer(input, 1);
        SurvivalTimes times = TimeToFirstAnalysis.Times(input);
        int[] rows = [.. Enumerable.Range(0, times.Rows)];
        SurvivalTimes Part(int[] of, double from, double to) => SurvivalTimes.CountingProcess(
            [.. of.Select(r => Math.Max(times.Entry[r], from))], [.. of.Select(r => Math.Min(times.Exit[r], to))], [.. of.Select(r => times.IsEvent[r] && times.Exit[r] <= to)]);
        int[] early = [.. rows.Where(r => times.Entry[r] < 1)], late = [.. rows.Where(r => times.Exit[r] > 1)];
        Assert.Equal(CoxRegression.Fit(Part(early, 0, 1), input.Design().SelectRows(early)).Coefficients.Estimate("anteversion").Value, Row("up to").ModelValue, 1e-8);
        Assert.Equal(CoxRegression.Fit(Part(late, 1, 99), input.Design().SelectRows(late)).Coefficients.Estimate("anteversion").Value, Row("after").ModelValue, 1e-8);
        Assert.Equal(times.EventCount, split.Counts.Events);

        EstimateRow Row(string part) => split.Estimates.Single(e => e.Label == $"Femoral anteversion, per 10 degrees, {part} 1 years");
    }

    [Fact]
    public void A_failed_check_changes_the_words_points_at_the_plan_and_leaves_the_numbers()
    {
        QuestionResult plain = AnalysisRunner.Answer(Protocol, Measures, Question("Q15"));
        QuestionResult full = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q15"));
        Assert.Equal(plain.Estimates.ToArray(), full.Estimates.ToArray());
        Assert.StartsWith(plain.Answer + " Take care: events are few for the number of terms, so the estimates are exploratory", full.Answer);
        Assert.EndsWith("Read beside it: Anteversion and age only.", full.Answer);
        Assert.Equal("Anteversion and age only", full.Diagnostics.Single(d => d.Check == "Events per parameter").Alternative);
        SupplementaryResult other = full.Supplement.Others.Single();
        Assert.Equal(AnalysisRunner.Answer(Protocol, Measures, Question("Q15") with { Adjustment = [Question("Q15").Adjustment[0]] }).Estimates[0], other.Estimates[0]);
    }

    [Fact]
    public void Knees_that_are_watched_late_are_not_counted_from_enrolment()
    {
        PlanFaultLine fault = Assert.Single(Faults(Question("Q6") with { Entry = null }));
        Assert.True(fault.Stops);
        Assert.Equal("Write 'entry: entry_day'.", fault.Hint);
        Assert.Contains("would count the time before as time without an event", fault.What);
        Assert.StartsWith("This model needs every row from enrolment on", Assert.Single(Faults(Question("Q8") with { Keep = null })).Hint);
        Assert.StartsWith("This model needs every row from enrolment on", Assert.Single(Faults(Question("Q16") with { Keep = null })).Hint);
        Assert.Empty(Faults(Question("Q6")));
    }

    [Fact]
    public void The_same_ratio_at_all_cuts_is_tested_where_cuts_have_rows_enough()
    {
        DiagnosticRow check = AnalysisRunner.Answer(Protocol, Measures, Question("Q7")).Diagnostics.Single(d => d.Check == "One odds ratio for all cuts");
        Assert.Contains("Brant, clustered; of the 6 cuts", check.Words);
        AnalysisInput input = Input(Question("Q7"));
        // By hand: with 4 terms, cuts with fewer than 40 rows on one side are those after 6 and 7 of 0 to 8.
        double[] scores = [.. input.Values("laxity_nine")];
        int[] kept = [.. Enumerable.Range(0, 8).Where(c => scores.Count(s => s <= c) >= 40 && scores.Count(s => s > c) >= 40)];
        int[] joined = [.. scores.Select(s => kept.Count(c => s > c))];
        double p = ProportionalityTest.Brant(input.Design(), joined, [.. Enumerable.Range(0, kept.Length + 1).Select(c => $"part {c}")], input.Clusters()).Overall.PValue;
        Assert.Contains(FormattableString.Invariant($"p = {p:0.000}"), check.Words);
    }

    [Fact]
    public void Load_of_the_week_before_moves_pain_by_what_the_generator_put_there()
    {
        // Truth of the made-up cohort, synthetic-data/README.md: 0.5 points per 100.
        EstimateRow load = AnalysisRunner.Answer(Protocol, Measures, Question("Q22")).Estimates[0];
        Assert.InRange(0.5, load.Lower, load.Upper);
        Assert.Equal("exposure", load.Role);
    }

    [Fact]
    public void Points_of_a_curve_are_round_and_the_centre_is_one_of_them()
    {
        ShapeCurve curve = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q13") with { MissingData = null, Sensitivity = [] }).Supplement.Shapes.Single();
        int centre = curve.X.IndexOf(20);
        Assert.True(centre > 0);
        Assert.Equal(1, curve.Estimate[centre], 1e-12);
        Assert.InRange(curve.X.Length, 20, 61);
    }

    [Fact]
    public void Tests_of_a_family_carry_their_adjusted_p_values_beside_their_own()
    {
        QuestionResult[] answers = [.. new[] { "Q13", "Q14" }.Select(id => AnalysisRunner.Answer(Protocol, Measures, Question(id)))];
        AnalysisPlan plan = Protocol.Plan with { Questions = [Question("Q13"), Question("Q14")] };
        ImmutableArray<QuestionResult> judged = FamilyAdjustment.Apply(plan, [.. answers]);
        double[] own = [.. judged.Select(q => q.Estimates[0].PValue)];
        Assert.Equal([.. own.Select(p => p == own.Min() ? 2 * p : Math.Max(p, 2 * own.Min()))], judged.Select(q => q.Estimates[0].FamilyPValue!.Value));
        Assert.All(judged, q => Assert.All(q.Estimates.Where(e => e.Role == "adjustment"), e => Assert.Null(e.FamilyPValue)));
    }

    [Fact]
    public void Poisson_and_stand_ins_are_the_models_that_their_names_say()
    {
        ImmutableArray<SupplementaryResult> others = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q5") with { MissingData = null }).Supplement.Others;
        QuestionResult answer = AnalysisRunner.Answer(Protocol, Measures, Question("Q5"));
        Assert.Equal(answer.Beside[0], others.Single(o => o.Name == "Poisson rate").Estimates[0]);
        SupplementaryResult hip = others.Single(o => o.Name == "Hip rotation in place of imaging");
        Assert.Equal("Mid-point of the hip rotation arc in place of femoral anteversion.", hip.WhatDiffers);
        Assert.Equal("hip_rotation_midpoint", hip.Estimates[0].Term);
    }

    private static ImmutableArray<PlanFaultLine> Faults(QuestionDefinition question)
        => PlanCheck.Check(Protocol with { Plan = Protocol.Plan with { Questions = [question] } }, Measures);

    private static QuestionDefinition Question(string id) => Protocol.Plan.Questions.Single(q => q.Id == id);

    private static AnalysisInput Input(QuestionDefinition question) => AnalysisInput.Prepare(Protocol, Measures, question);
}
