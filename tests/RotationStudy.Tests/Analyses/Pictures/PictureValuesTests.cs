using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Analyses.Pictures;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Analyses.Pictures;

/// <summary>What figures draw beyond the answers equals what a slow loop over the measures of the demo study finds.</summary>
public sealed class PictureValuesTests
{
    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
    private static readonly CheckedRecords Records = RecordChecker.Check(Protocol, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), Protocol));
    private static readonly DerivedMeasures Measures = MeasureDeriver.Derive(Protocol, Records);
    private static readonly FigureValues Values = FigureValuesBuilder.Build(Protocol, Records, Measures);

    [Fact]
    public void The_mean_number_of_events_rises_at_each_event_by_one_over_those_at_risk()
    {
        QuestionDefinition question = Protocol.Plan.Questions.Single(q => q.Id == "Q5");
        AnalysisInput input = AnalysisInput.Prepare(Protocol, Measures, question);
        RisingCurve curve = Assert.Single(Assert.Single(MeanEventCurves.OfCounts(input)).Curves);
        MeasureColumn count = Measures["dislocations"];
        EventHistory[] histories = [.. input.Table.Keys.Select(k => Measures.Histories["dislocations"][count.Index.Find(k)]!)];
        double mean = 0;
        int step = 0;
        foreach (double day in histories.SelectMany(h => h.Days).Distinct().Order())
        {
            mean += histories.Sum(h => h.Days.Count(d => d == day)) / (double)histories.Count(h => h.Entry < day && h.End >= day);
            Assert.Equal(day / question.TimeUnitDays, curve.Times[step], 1e-12);
            Assert.Equal(mean, curve.Value[step++], 1e-10);
        }
        Assert.Equal(curve.Times.Length, step);
        Assert.Equal(input.Values("dislocations").Sum(), histories.Sum(h => h.Days.Length));
        Assert.Equal(histories.Sum(h => h.Days.Length), curve.Events);
    }

    [Fact]
    public void The_incidences_of_all_events_stay_within_their_bands_and_below_one()
    {
        QuestionDefinition question = Protocol.Plan.Questions.Single(q => q.Id == "Q8");
        var all = IncidenceCurves.Of(CurveRows.Of(AnalysisInput.Prepare(Protocol, Measures, question)));
        Assert.Equal(2, all.Length);
        foreach (RisingCurve curve in all.SelectMany(a => a.Curves))
        {
            Assert.Equal(curve.Value.Order(), curve.Value);
            Assert.All(Enumerable.Range(0, curve.Value.Length), i => Assert.True(curve.Lower[i] <= curve.Value[i] && curve.Value[i] <= curve.Upper[i] && curve.Upper[i] <= 1));
        }
        Assert.Equal(["under 15°", "15° to under 25°", "25° and over"], all[0].Curves.Select(c => c.Group));
    }

    [Fact]
    public void Slopes_compare_only_persons_of_whom_one_knee_dislocated()
    {
        SidePairs pairs = Assert.Single(Values.Sides);
        MeasureColumn angle = Measures["anteversion"], marked = Measures["ever_dislocated"];
        List<double> differences = [];
        for (int person = 0; person < Measures.Keys.Participants.Length; person++)
        {
            int[] rows = [.. Enumerable.Range(0, angle.Index.Rows).Where(r => angle.Index.Keys[r].Participant == person && angle.HasValue(r))];
            double[] events = [.. rows.Select(r => marked.Index.Find(angle.Index.Keys[r])).Where(r => r >= 0 && marked.HasValue(r)).Select(r => marked.Values[r])];
            if (rows.Length == 2 && events.Length == 2 && events[0] != events[1])
                differences.Add((events[1] - events[0]) * (angle.Values[rows[1]] - angle.Values[rows[0]]));
        }
        Assert.Equal(differences, pairs.Second.Zip(pairs.First, (b, a) => b - a));
        Assert.Equal(differences.Average(), pairs.Difference!.Value, 1e-12);
    }

    [Fact]
    public void Every_reading_has_a_last_digit_and_no_digit_is_invented()
    {
        DigitCounts digits = Assert.Single(Values.Digits);
        var table = Records.Tables.Single(t => t.Definition.Name == "knee_exams");
        int readings = Enumerable.Range(0, table.Rows).Count(table["hip_internal_rotation_deg"].HasValue);
        Assert.Equal(readings, digits.Raters.Sum(r => r.Counts.Sum()));
        Assert.All(digits.Raters, r => Assert.Equal(10, r.Counts.Length));
        // The made-up raters round to 5 degrees as declared in the scenario: both heaps must stand out for each.
        Assert.All(digits.Raters, r => Assert.True(r.Counts[0] + r.Counts[5] > 0.5 * r.Counts.Sum(), r.Rater));
    }

    [Fact]
    public void Scores_pairs_and_diaries_leave_nobody_out_unsaid()
    {
        Assert.All(Values.Scores[0].Definitions, d => Assert.Equal(Measures.Keys.Participants.Length, d.Participants.Sum() + d.Without));
        MeasurePair pair = Values.Pairs.Single(p => p.Figure == "torsion-of-both-knees");
        Assert.Equal(Measures.Levels[RowLevel.Unit].Rows, pair.Points.Length + pair.LeftOut);
        DiaryStrips[] strips = [.. Values.Diaries[0].Measures];
        Assert.Equal(strips[0].Strips.Select(s => s.Weeks.Length), strips[1].Strips.Select(s => s.Weeks.Length));
        MeasureColumn pain = Measures["weekly_pain"];
        Assert.Equal(Enumerable.Range(0, pain.Index.Rows).Count(pain.HasValue), strips[0].Strips.Sum(s => s.Weeks.Count(w => w is not null)));
    }

    [Fact]
    public void A_milestone_that_all_have_reached_ends_at_one()
    {
        RisingCurves curves = Assert.Single(Values.Milestones).Curves;
        WaitedFor wait = Measures.Waits.Single(w => w.Time.Definition.Id == "weeks_to_weight_bearing");
        int[] rows = [.. Enumerable.Range(0, wait.Reached.Index.Rows).Where(r => wait.Reached.HasValue(r) && wait.Watched.HasValue(r))];
        Assert.All(rows, r => Assert.Equal(1, wait.Reached.Values[r]));
        Assert.Equal(1, curves.Curves[0].Value[^1], 1e-12);
        Assert.Equal(rows.Length, curves.Curves[0].AtRisk[0]);
    }

    /// <summary>A model with a product of everything and the group is one line per group: the slopes are those of separate fits.</summary>
    [Fact]
    public void Subgroup_slopes_equal_those_of_separate_fits()
    {
        string folder = Path.Combine(Repository.Root, "protocols", "growth-example");
        StudyProtocol growth = ProtocolReader.Read(folder);
        DerivedMeasures measures = MeasureDeriver.Derive(growth, RecordChecker.Check(growth, ExportReader.Read(Path.Combine(folder, "example-exports"), growth)));
        QuestionDefinition question = growth.Plan.Questions[0] with { Exposures = [growth.Plan.Questions[0].Exposures[0]], Interactions = [], Subgroups = ["sex"] };
        SubgroupEstimates found = SubgroupAnalysis.Estimate(growth, measures, question, "sex");
        Assert.Equal(["girls", "boys"], found.Groups.Select(g => g.Group));
        for (int group = 0; group < 2; group++)
        {
            AnalysisInput own = AnalysisInput.Prepare(growth, measures, question with { Keep = new RowFilter("sex", [group == 0 ? "Female" : "Male"]) });
            Coefficients fit = LinearRegression.Fit(own.DesignWithIntercept(), own.Values("distance")).ModelBased;
            Assert.Equal(fit.Estimate("age").Value, Assert.Single(found.Groups[group].Estimates).Value, 1e-10);
            Assert.Equal(own.Table.Rows, found.Groups[group].Counts.Rows);
        }
        // The test of the product equals that of the planned model with this product, whose reference is the published one.
        QuestionResult planned = AnalysisRunner.Answer(growth, measures, growth.Plan.Questions[0]);
        Assert.Equal(planned.Estimates.Single(e => e.Role == "interaction").PValue, found.PValues[0]!.Value, 1e-6);
    }

    [Fact]
    public void Growth_lines_pass_through_the_readings_and_their_means_through_the_model()
    {
        string folder = Path.Combine(Repository.Root, "protocols", "growth-example");
        StudyProtocol growth = ProtocolReader.Read(folder);
        DerivedMeasures measures = MeasureDeriver.Derive(growth, RecordChecker.Check(growth, ExportReader.Read(Path.Combine(folder, "example-exports"), growth)));
        GrowthLines lines = AnalysisRunner.Answer(growth, measures, growth.Plan.Questions.Single(q => q.Id == "Q2")).Growth!;
        Assert.Equal(27, lines.Singles.Length);
        Assert.Equal(108, lines.Singles.Sum(s => s.X.Length));
        Assert.Equal(["girls", "boys"], lines.Means.Select(m => m.Group));
        // Balanced data: the mean line of a group passes through the mean of its readings at the middle age (Potthoff and Roy 1964, Table 1).
        for (int group = 0; group < 2; group++)
            Assert.Equal(lines.Singles.Where(s => s.Group == group).SelectMany(s => s.Y).Average(), lines.Means[group].Mean[20], 1e-6);
    }
}
