using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Analyses;

/// <summary>What stands beside the answers of the demo study equals the bare call of Statistics, and never exchanges an answer.</summary>
public sealed class QuestionSupplementsTests
{
    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
    private static readonly DerivedMeasures Measures = MeasureDeriver.Derive(
        Protocol, RecordChecker.Check(Protocol, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), Protocol)));

    [Fact]
    public void Ordered_odds_equal_the_bare_fit()
    {
        QuestionResult answer = AnalysisRunner.Answer(Protocol, Measures, Question("Q7"));
        AnalysisInput input = Input("Q7");
        double[] levels = [.. input.Values("laxity_nine").Distinct().Order()];
        ProportionalOddsFit fit = ProportionalOddsRegression.Fit(
            input.Design(), input.Values("laxity_nine").Select(v => Array.IndexOf(levels, v)).ToArray(), [.. levels.Select(l => FormattableString.Invariant($"{l:0}"))], input.Clusters());
        Assert.Equal(fit.Coefficients.Estimate("anteversion").Value, answer.Estimates[0].ModelValue, 1e-12);
        Assert.Equal(fit.Coefficients.Estimate("anteversion").PValue, answer.Estimates[0].PValue, 1e-12);
    }

    [Fact]
    public void Competing_events_equal_the_bare_fits_and_their_incidences_stay_below_one()
    {
        QuestionResult answer = AnalysisRunner.Answer(Protocol, Measures, Question("Q8"));
        AnalysisInput input = Input("Q8");
        CompetingTimes times = CompetingTimes.RightCensored(
            [.. input.Values("first_event_day").Select(v => v / 365.25)], [.. input.Values("first_event").Select(v => (int)v)]);
        Assert.Equal(FineGray.Fit(times, 1, input.Design(), input.Clusters()).Coefficients.Estimate("anteversion").Value, answer.Estimates[0].ModelValue, 1e-12);
        Assert.Equal(CoxRegression.Fit(times.CauseSpecific(1), input.Design(), input.Clusters()).Coefficients.Estimate("anteversion").Value, answer.Beside[0].ModelValue, 1e-12);
        Assert.All(answer.Tables[0].Rows.SelectMany(r => r.Cells.Skip(1)).Where(c => c.Sort is not null), c => Assert.InRange(c.Sort!.Value, 0, 1));
    }

    [Fact]
    public void Within_persons_only_the_discordant_tell()
    {
        QuestionResult answer = AnalysisRunner.Answer(Protocol, Measures, Question("Q9"));
        AnalysisInput input = Input("Q9");
        int discordant = input.Table.Participants.Zip(input.Values("ever_dislocated")).GroupBy(r => r.First).Count(g => g.Select(r => r.Second).Distinct().Count() == 2);
        Assert.Contains($" of {discordant} participants with both outcomes", answer.Model);
        ConditionalLogisticFit fit = ConditionalLogisticRegression.Fit(input.Design(), input.Values("ever_dislocated").AsSpan(), input.Clusters());
        Assert.Equal(fit.Coefficients.Estimate("anteversion").Value, answer.Estimates[0].ModelValue, 1e-12);
    }

    [Fact]
    public void Leaving_the_named_person_out_gives_the_number_printed()
    {
        QuestionResult answer = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q2"));
        PersonShift most = answer.Supplement.Influence[0].Persons[0];
        AnalysisInput input = Input("Q2");
        int person = input.Table.StudyKeys.Participants.IndexOf(most.Participant);
        AnalysisInput rest = PlannedModel.WithRows(input, [.. Enumerable.Range(0, input.Table.Rows).Where(r => input.Table.Participants[r] != person)]);
        Coefficients fit = LinearRegression.Fit(rest.DesignWithIntercept(), rest.Values("laxity_nine")).ModelBased;
        Assert.Equal(fit.Estimate("anteversion").Value, most.Without, 1e-12);
        Assert.Equal((most.Without - answer.Estimates[0].ModelValue) / answer.Estimates[0].ModelStandardError!.Value, most.ShiftInStandardErrors, 1e-12);
    }

    [Fact]
    public void A_curve_is_at_no_association_where_the_plan_centred_it()
    {
        ShapeCurve curve = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q4")).Supplement.Shapes.Single(s => s.Exposure == "anteversion");
        Assert.Equal(20, curve.Reference, 1e-9);
        int left = curve.X.ToList().FindLastIndex(x => x <= 20);
        Assert.InRange(1, Math.Min(curve.Estimate[left], curve.Estimate[left + 1]) - 1e-9, Math.Max(curve.Estimate[left], curve.Estimate[left + 1]) + 1e-9);
        Assert.InRange(curve.NonLinearityPValue, 0, 1);
        Assert.Equal(4, curve.Knots.Length);
    }

    [Fact]
    public void The_planned_answer_is_never_exchanged()
    {
        QuestionResult plain = AnalysisRunner.Answer(Protocol, Measures, Question("Q6"));
        QuestionResult full = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q6"));
        Assert.Equal(plain.Answer, full.Answer);
        Assert.Equal(plain.Estimates.ToArray(), full.Estimates.ToArray());
        Assert.Equal(2, full.Supplement.EValues.Length);
    }

    [Fact]
    public void Imputation_stands_beside_complete_cases_and_repeats_itself()
    {
        QuestionDefinition question = Question("Q3") with { MissingData = new MissingDataPlan(3, "function_score", [-10], "Shorter than the plan.") };
        MissingDataComparison first = AnalysisRunner.AnswerInFull(Protocol, Measures, question).Supplement.MissingData!;
        MissingDataComparison second = AnalysisRunner.AnswerInFull(Protocol, Measures, question).Supplement.MissingData!;
        Assert.Equal(["Complete cases", "Imputed as if missing at random", "Imputed values of knee function score at 12 months lowered by 10"], first.Approaches.Select(a => a.Name));
        Assert.Equal(first.Approaches[1].Estimates.ToArray(), second.Approaches[1].Estimates.ToArray());
        Assert.Equal(first.Approaches[2].Estimates.ToArray(), second.Approaches[2].Estimates.ToArray());
        Assert.True(first.IncompleteRows > 0);
        Assert.All(first.Approaches[1].MissingInformation, m => Assert.InRange(m, 0, 1));
    }

    [Fact]
    public void A_negative_control_is_the_same_model_of_another_outcome()
    {
        QuestionDefinition question = Question("Q5") with { NegativeControl = new NegativeControl("subluxations", "For this test."), MissingData = null };
        SupplementaryResult control = AnalysisRunner.AnswerInFull(Protocol, Measures, question).Supplement.Others.Single(o => o.Role == "negative_control");
        QuestionResult direct = AnalysisRunner.Answer(Protocol, Measures, question with { Outcome = "subluxations" });
        Assert.Equal(direct.Estimates[0], control.Estimates[0]);
    }

    [Fact]
    public void A_sensitivity_analysis_leaves_its_terms_out()
    {
        SupplementaryResult other = AnalysisRunner.AnswerInFull(Protocol, Measures, Question("Q10")).Supplement.Others.Single();
        Assert.Equal("Not adjusted for trochlear dysplasia, low and high, patellar height and tubercle to groove distance by magnetic resonance.", other.WhatDiffers);
        Assert.Contains(other.Estimates, e => e.Role == "interaction");
    }

    private static QuestionDefinition Question(string id) => Protocol.Plan.Questions.Single(q => q.Id == id);

    private static AnalysisInput Input(string id) => AnalysisInput.Prepare(Protocol, Measures, Question(id));
}
