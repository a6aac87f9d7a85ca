using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class GhoshLinTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Recurrent/terminal");
    private static readonly FineGrayOptions Sandwich = new() { ClusterVariance = CoxClusterVariance.Sandwich };
    private static readonly (RecurrentEvents Events, DesignMatrix X) Made = Read();

    [Fact]
    public void Histories_with_a_terminal_event_agree_with_the_reference()
    {
        GhoshLinFit fit = GhoshLin.Fit(Made.Events, Made.X, options: Sandwich);
        Assert.Equal((90, 79, 49), (fit.Units, fit.Events, fit.TerminalEvents));
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(Case.Number($"cases/coef/{j}"), fit.Coefficients.Values[j], 1e-8);
            Close.Relative(Case.Number($"cases/se/{j}"), fit.Coefficients.StandardError(j), 1e-8);
        }
        double[] inverse = [.. fit.InformationCovariance.Values];
        double determinant = (inverse[0] * inverse[3]) - (inverse[1] * inverse[2]);
        Close.Relative(Case.Number("cases/information/0"), inverse[3] / determinant, 1e-8);
        IReadOnlyList<(double Time, double Mean)> mean = fit.MeanEvents([0, 0]);
        for (int k = 0; k < 2; k++)
            Close.Relative(Case.Number($"cases/mean/{k}"), mean.Last(m => m.Time <= Case.Number($"cases/mean_time/{k}")).Mean, 1e-8);
    }

    [Fact]
    public void A_first_event_that_ends_the_follow_up_is_the_regression_of_Fine_and_Gray()
    {
        // Once it has had its event a unit stays at risk for more here and leaves there: equal only where no unit is weighted after one,
        // so units with the event are followed no further and none is lost.
        UnitHistory[] first = [.. Made.Events.Histories.Select(h => new UnitHistory(0, h.EventTimes.Count > 0 ? h.EventTimes[0] : h.End, h.EventTimes.Count > 0 ? [h.EventTimes[0]] : []))];
        GhoshLinFit means = GhoshLin.Fit(new RecurrentEvents(first), Made.X, options: Sandwich);
        CompetingTimes once = CompetingTimes.RightCensored([.. first.Select(h => h.End)], [.. first.Select(h => h.EventTimes.Count)]);
        FineGrayFit incidence = FineGray.Fit(once, 1, Made.X, options: Sandwich);
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(incidence.Coefficients.Values[j], means.Coefficients.Values[j], 1e-10);
            Close.Relative(incidence.Coefficients.StandardError(j), means.Coefficients.StandardError(j), 1e-10);
        }
    }

    [Fact]
    public void Without_terminal_events_the_means_are_those_of_Lin_Wei_Yang_and_Ying()
    {
        RecurrentEvents open = new([.. Made.Events.Histories.Select(h => h with { Terminal = false })]);
        GhoshLinFit fit = GhoshLin.Fit(open, Made.X);
        CoxFit rates = LinWeiYangYing.Fit(open, Made.X);
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(rates.Coefficients.Values[j], fit.Coefficients.Values[j], 1e-10);
            Close.Relative(rates.Coefficients.StandardError(j), fit.Coefficients.StandardError(j), 1e-8);
        }
    }

    [Fact]
    public void Without_an_effect_the_mean_is_the_curve_that_counts_terminal_events()
    {
        // The curve weights by S(t-), the regression by G(t-)/G(X-): the same by Kaplan-Meier identities, with everyone twice, once with x = 0 and once with 1.
        int n = Made.Events.Units;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        DesignMatrix x = DesignMatrix.FromColumns(("x", [.. twice.Select((_, i) => i < n ? 0.0 : 1.0)]));
        GhoshLinFit fit = GhoshLin.Fit(Made.Events.SelectUnits(twice), x, Clusters.From(twice));
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(Made.Events);
        foreach ((double time, double mean) in fit.MeanEvents([0.5]))
            Close.Relative(curve.At(time).Mean, mean, 1e-10);
    }

    [Fact]
    public void Shuffled_units_give_the_same_fit_and_a_rescaled_covariate_its_rescaled_coefficient()
    {
        int[] order = [.. Enumerable.Range(0, Made.Events.Units).OrderBy(i => (i * 37) % 89)];
        GhoshLinFit fit = GhoshLin.Fit(Made.Events, Made.X);
        GhoshLinFit shuffled = GhoshLin.Fit(Made.Events.SelectUnits(order), Made.X.SelectRows(order));
        DesignMatrix tenths = DesignMatrix.FromColumns(("x1", [.. Made.X.Column(0).ToArray().Select(v => v / 10)]), ("x2", Made.X.Column(1).ToArray()));
        GhoshLinFit rescaled = GhoshLin.Fit(Made.Events, tenths);
        Close.Relative(fit.Coefficients.Values[0], shuffled.Coefficients.Values[0], 1e-10);
        Close.Relative(fit.Coefficients.StandardError(0), shuffled.Coefficients.StandardError(0), 1e-10);
        Close.Relative(10 * fit.Coefficients.Values[0], rescaled.Coefficients.Values[0], 1e-9);
        Close.Relative(10 * fit.Coefficients.StandardError(0), rescaled.Coefficients.StandardError(0), 1e-9);
    }

    [Fact]
    public void Histories_that_cannot_be_fitted_are_refused_with_the_reason()
    {
        RecurrentEvents none = new([.. Made.Events.Histories.Select(h => h with { EventTimes = [] })]);
        Assert.Contains("no unit has an event", Assert.Throws<TooFewDataError>(() => GhoshLin.Fit(none, Made.X)).Message, StringComparison.Ordinal);
        RecurrentEvents late = new([.. Made.Events.Histories.Select((h, i) => i == 4 ? h with { Entry = 0.01, EventTimes = [] } : h)]);
        Assert.Equal(4, Assert.Throws<InvalidInputError>(() => GhoshLin.Fit(late, Made.X)).Row);
        DesignMatrix constant = DesignMatrix.FromColumns(("one", [.. Enumerable.Repeat(1.0, Made.Events.Units)]));
        Assert.Equal(["one"], Assert.Throws<RankDeficientError>(() => GhoshLin.Fit(Made.Events, constant)).Columns);
    }

    private static (RecurrentEvents, DesignMatrix) Read()
    {
        double[] unit = Case.Column("unit");
        double[] stop = Case.Column("stop");
        double[] status = Case.Column("status");
        List<UnitHistory> histories = [];
        List<double> times = [];
        List<double> x1 = [];
        List<double> x2 = [];
        for (int i = 0; i < unit.Length; i++)
        {
            if (status[i] == 1)
            {
                times.Add(stop[i]);
                continue;
            }
            histories.Add(new UnitHistory(0, stop[i], [.. times], status[i] == 2));
            times.Clear();
            x1.Add(Case.Column("x1")[i]);
            x2.Add(Case.Column("x2")[i]);
        }
        return (new RecurrentEvents(histories), DesignMatrix.FromColumns(("x1", x1), ("x2", x2)));
    }
}
