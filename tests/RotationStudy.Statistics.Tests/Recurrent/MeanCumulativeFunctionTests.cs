using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class MeanCumulativeFunctionTests
{
    [Fact]
    public void Three_units_by_hand()
    {
        // Units: events at 1 and 3, followed to 4; event at 2, to 2.5; none, to 5. At risk 3, 3, 2 at times 1, 2, 3.
        RecurrentEvents events = new([new(0, 4, [1, 3]), new(0, 2.5, [2]), new(0, 5, [])]);
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(events);
        Assert.Equal([3, 3, 2], curve.Steps.Select(s => s.AtRisk));
        Close.Relative((2.0 / 3) + 0.5, curve.At(4).Mean, 1e-15);
        // Influences at 3: unit 1: (1 - 1/3)/3 - 1/9 + (1 - 1/2)/2; unit 2: -1/9 + (1 - 1/3)/3; unit 3: -1/9 - 1/9 - 1/4.
        double[] u = [(2.0 / 9) - (1.0 / 9) + 0.25, (-1.0 / 9) + (2.0 / 9), (-2.0 / 9) - 0.25];
        Close.Relative(Math.Sqrt(u.Sum(v => v * v)), curve.At(3).StandardError, 1e-13);
    }

    [Fact]
    public void Bladder_tumours_agree_with_the_reference_in_both_groups()
    {
        IReadOnlyList<MeanCumulativeCurve> curves = MeanCumulativeFunction.EstimateByGroup(Bladder.Events, Bladder.Treatment);
        for (int g = 0; g < 2; g++)
        {
            MeanCumulativeCurve curve = curves.Single(c => c.Name == (g == 0 ? "placebo" : "thiotepa"));
            for (int t = 0; t < 4; t++)
            {
                MeanStep step = curve.At(10 * (t + 1));
                Close.Relative(Bladder.Case.Number($"cases/mcf_nelson_aalen/cumhaz/{(4 * g) + t}"), step.Mean, 1e-10);
                Close.Relative(Bladder.Case.Number($"cases/mcf_nelson_aalen/se_robust/{(4 * g) + t}"), step.StandardError, 1e-8);
            }
        }
    }

    [Fact]
    public void The_difference_has_the_error_of_its_parts_where_units_are_independent()
    {
        IReadOnlyList<MeanCumulativeCurve> curves = MeanCumulativeFunction.EstimateByGroup(Bladder.Events, Bladder.Treatment);
        Estimate difference = MeanCumulativeFunction.Difference(Bladder.Events, Bladder.Treatment, 30);
        Close.Relative(curves[1].At(30).Mean - curves[0].At(30).Mean, difference.Value, 1e-12);
        double expected = Math.Sqrt(Math.Pow(curves[0].At(30).StandardError, 2) + Math.Pow(curves[1].At(30).StandardError, 2));
        Close.Relative(expected, difference.StandardError, 1e-10);
    }

    [Fact]
    public void With_one_event_at_most_and_a_terminal_event_it_is_the_cumulative_incidence()
    {
        // Every event is terminal, so that none can follow it.
        Random random = new(4);
        List<UnitHistory> histories = [];
        List<double> exit = [];
        List<int> cause = [];
        for (int i = 0; i < 60; i++)
        {
            double end = random.Next(1, 12);
            int which = random.Next(3);
            histories.Add(new UnitHistory(0, end, which == 1 ? [end] : [], Terminal: which > 0));
            exit.Add(end);
            cause.Add(which);
        }
        int[] pairs = [.. Enumerable.Range(0, 60).Select(i => i / 2)];
        MeanCumulativeCurve mean = MeanCumulativeFunction.Estimate(new RecurrentEvents(histories), Clusters.From(pairs));
        CumulativeIncidenceCurve incidence = AalenJohansen.Estimate(CompetingTimes.RightCensored(exit, cause), 1, Clusters.From(pairs));
        for (int i = 0; i < mean.Steps.Count; i++)
        {
            Close.Relative(incidence.Steps[i].Incidence, mean.Steps[i].Mean, 1e-12);
            Close.Relative(incidence.Steps[i].StandardError, mean.Steps[i].StandardError, 1e-9);
        }
    }

    [Fact]
    public void With_terminal_events_the_influence_is_the_derivative_with_respect_to_a_units_weight()
    {
        const int Copies = 150;
        Random random = new(8);
        UnitHistory[] histories = [.. Enumerable.Range(0, 30).Select(_ =>
        {
            double entry = random.Next(0, 3);
            double end = entry + random.Next(3, 12);
            double[] times = [.. Enumerable.Range(1, 12).Select(k => entry + k).Where(t => t <= end && random.Next(4) == 0)];
            return new UnitHistory(entry, end, times, random.Next(2) == 0);
        })];
        int[] all = [.. Enumerable.Range(0, 30 * Copies).Select(i => i % 30)];
        double Mean(IEnumerable<int> units) => MeanCumulativeFunction.Estimate(new RecurrentEvents([.. units.Select(u => histories[u])])).At(9).Mean;
        double variance = 0;
        for (int u = 0; u < 30; u++)
        {
            int unit = u;
            double derivative = Copies * (Mean(all.Append(unit)) - Mean(all.Where((v, i) => v != unit || i >= 30))) / 2;
            variance += derivative * derivative;
        }
        double found = MeanCumulativeFunction.Estimate(new RecurrentEvents(histories)).At(9).StandardError;
        Close.Relative(Math.Sqrt(variance), found, 1e-4);
    }

    [Fact]
    public void The_test_is_the_robust_score_test_of_the_rates_model()
    {
        LogRankResult found = MeanCumulativeFunction.Test(Bladder.Events, Bladder.Treatment);
        Assert.Equal("log-rank, cluster-robust", found.Test.Name);
        RiskRows rows = Bladder.Events.CutAtEvents(gapTime: false, lastNumber: 1);
        string[] group = [.. rows.Unit.Select(u => Bladder.Treatment[u])];
        Close.Relative(LogRank.Test(rows.Times, group, Clusters.From(rows.Unit)).Test.Statistic, found.Test.Statistic, 1e-12);
    }

    [Fact]
    public void Edges_are_answered_or_refused()
    {
        RecurrentEvents none = new([new(0, 4, []), new(0, 3, [])]);
        MeanCumulativeCurve flat = MeanCumulativeFunction.Estimate(none);
        Assert.Empty(flat.Steps);
        Assert.Equal(0, flat.At(4).Mean);
        Assert.Throws<InvalidInputError>(() => flat.At(5));
        Assert.Contains("one cluster", Assert.Throws<TooFewDataError>(() => MeanCumulativeFunction.Estimate(none, Clusters.From([1, 1]))).Message, StringComparison.Ordinal);
        Assert.Contains("beyond the follow-up", Assert.Throws<InvalidInputError>(() => MeanCumulativeFunction.Difference(none, ["a", "b"], 3.5)).Message, StringComparison.Ordinal);
        Assert.Throws<TooFewDataError>(() => MeanCumulativeFunction.Test(none, ["a", "b"]));
    }
}
