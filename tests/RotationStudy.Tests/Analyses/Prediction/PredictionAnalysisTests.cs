using RotationStudy.Study.Analyses.Prediction;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Analyses.Prediction;

/// <summary>Models and scores of the demo study. The data are invented.</summary>
public sealed class PredictionAnalysisTests
{
    private static readonly StudyProtocol Protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
    private static readonly DerivedMeasures Measures = MeasureDeriver.Derive(
        Protocol, RecordChecker.Check(Protocol, ExportReader.Read(Path.Combine(Repository.Root, "synthetic-data", "demo"), Protocol)));

    private static readonly Lazy<(PredictionResult[] Results, RiskPerformance[] Risks)> Found = new(() =>
    {
        (System.Collections.Immutable.ImmutableArray<PredictionResult> results, System.Collections.Immutable.ImmutableArray<RiskPerformance> risks) = PredictionAnalysis.Build(Quick(Protocol), Measures);
        return ([.. results], [.. risks]);
    });

    [Fact]
    public void The_model_is_judged_where_it_was_developed_and_on_the_site_held_out()
    {
        PredictionResult model = Found.Value.Results.Single(r => r.Id == "P1");
        Assert.True(model.Answered, model.Answer);
        Assert.Equal(["development", "held out: Site C"], model.Performance.Select(p => p.Sample).Distinct());
        Assert.Equal(Protocol.Prediction!.Models[0].Predictors.Length + 1, model.Terms.Length);
        PerformanceRow area = model.Performance.First(p => p.Measure.StartsWith("Area", StringComparison.Ordinal));
        Assert.True(area.Optimism > 0, "a model looks better on its own rows");
        Assert.Equal(area.Value - area.Optimism!.Value, area.Corrected!.Value, 1e-12);
        Assert.Equal(22, model.Items.Sum(i => i.Item.Count(c => c == ',') + 1));
        Assert.Contains(model.Warnings, w => w.Contains("no tool for the bedside", StringComparison.Ordinal));
    }

    [Fact]
    public void Rows_of_development_and_those_held_out_are_all_rows_and_share_no_person()
    {
        PredictionResult model = Found.Value.Results.Single(r => r.Id == "P1");
        RiskPerformance held = Found.Value.Risks.Single(r => r.Question == "P1" && r.Sample != "development");
        int all = Measures.Levels[RowLevel.Unit].Rows;
        Assert.Equal(all, model.Counts.Rows + held.Counts.Rows + model.LeftOut.Sum(l => l.Rows));
        Assert.Equal(held.Counts.Rows, held.Calibration.Groups.Sum(g => g.Rows));
        Assert.Equal(held.Counts.Rows, held.Calibration.WithEvent.Sum() + held.Calibration.WithoutEvent.Sum());
    }

    [Fact]
    public void The_same_seed_gives_the_same_numbers()
        => Assert.Equal(
            Found.Value.Results.Single(r => r.Id == "P1").Performance.ToArray(),
            PredictionAnalysis.Build(Quick(Protocol), Measures).Results.Single(r => r.Id == "P1").Performance.ToArray());

    [Fact]
    public void A_score_gives_the_points_that_its_factors_say()
    {
        RiskScore score = Protocol.Prediction!.Scores.Single(s => s.Id == "S1");
        PredictionResult result = Found.Value.Results.Single(r => r.Id == "S1");
        MeasureColumn height = Measures["patellar_height"];
        MeasureColumn grade = Measures["trochlear_grade"];
        MeasureColumn age = Measures["age_years"];
        int seen = 0;
        foreach (RowKey key in Measures.Levels[RowLevel.Unit].Keys)
        {
            (int h, int g, int a) = (height.Index.Find(key), grade.Index.Find(key), age.Index.Find(key));
            if (h < 0 || g < 0 || !height.HasValue(h) || !grade.HasValue(g) || !age.HasValue(a))
                continue;
            int expected = (height.Values[h] >= 1.15 ? 1 : 0) + (age.Values[a] < 21 ? 1 : 0) + (grade.Codes[(int)grade.Values[g]].Code is "B" or "C" or "D" ? 1 : 0);
            Assert.Equal(expected, AppliedScore.Points(score, Measures, key));
            seen++;
        }
        Assert.True(seen > 100);
        Assert.Equal(result.Counts.Rows, result.Points.Sum(p => p.Rows));
        Assert.Equal(result.Counts.Events, result.Points.Sum(p => p.Events));
    }

    [Fact]
    public void Calibration_of_a_score_is_that_of_its_published_risks()
    {
        PredictionResult result = Found.Value.Results.Single(r => r.Id == "S1");
        double expected = result.Points.Sum(p => p.Rows * p.Published!.Value);
        Assert.Equal(result.Counts.Events / expected, result.Performance.Single(p => p.Measure == "Observed over expected").Value, 1e-12);
        Assert.NotEmpty(result.Mapping);
        Assert.NotEmpty(result.Unconfirmed);
    }

    [Fact]
    public void Points_without_a_confirmed_risk_count_for_discrimination_only()
    {
        PredictionResult result = Found.Value.Results.Single(r => r.Id == "S2");
        Assert.Contains(result.Points, p => p.Published is null && p.Rows > 0);
        Assert.Contains(result.Warnings, w => w.Contains("could not be confirmed", StringComparison.Ordinal));
        Assert.Equal("all rows", result.Performance[0].Sample);
    }

    [Fact]
    public void Without_any_event_nothing_is_developed_and_the_reason_is_said()
    {
        MeasureColumn ever = Measures["ever_dislocated"];
        DerivedMeasures none = Measures with { Columns = Measures.Columns.Replace(ever, ever with { Values = [.. ever.Values.Select(_ => 0.0)] }) };
        (System.Collections.Immutable.ImmutableArray<PredictionResult> results, System.Collections.Immutable.ImmutableArray<RiskPerformance> risks) = PredictionAnalysis.Build(Quick(Protocol), none);
        Assert.Empty(risks);
        Assert.All(results, r => Assert.False(r.Answered));
        Assert.Contains("No model can be developed: 0 of", results[0].Answer);
    }

    [Fact]
    public void Predictors_given_to_other_persons_predict_nothing_on_the_site_held_out()
    {
        // Outcomes go to other persons, both knees together: what is left is chance.
        MeasureColumn ever = Measures["ever_dislocated"];
        Statistics.Resampling.RandomStream random = new(8, "outcomes to others");
        int held = 0;
        for (int round = 0; round < 10; round++)
        {
            int[] order = [.. Enumerable.Range(0, ever.Index.Rows / 2)];
            random.Shuffle(order);
            MeasureColumn other = ever with { Values = [.. Enumerable.Range(0, ever.Index.Rows).Select(i => ever.Values[(2 * order[i / 2]) + (i % 2)])] };
            RiskPerformance risk = PredictionAnalysis.Build(Quick(Protocol, 1), Measures with { Columns = Measures.Columns.Replace(ever, other) }).Risks.First(r => r.Question == "P1" && r.Sample != "development");
            held += risk.Discrimination.Area.Lower <= 0.5 && risk.Discrimination.Area.Upper >= 0.5 ? 1 : 0;
        }
        Assert.InRange(held, 8, 10);
    }

    /// <summary>Fewer resamples, for tests.</summary>
    private static StudyProtocol Quick(StudyProtocol protocol, int resamples = 20)
        => protocol with { Prediction = protocol.Prediction! with { Models = [.. protocol.Prediction.Models.Select(m => m with { Resamples = resamples })] } };
}
