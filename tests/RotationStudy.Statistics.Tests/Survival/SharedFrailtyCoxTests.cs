using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;
using RotationStudy.Statistics.Tests.Recurrent;

namespace RotationStudy.Statistics.Tests.Survival;

public class SharedFrailtyCoxTests
{
    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;
    private static readonly ReferenceCase Frailty = ReferenceCase.Read("Survival/frailty");

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void At_a_held_variance_bladder_tumours_agree_with_the_reference(int reference)
        => Agrees(reference, FitBladder(Frailty.Number($"cases/{reference}/theta")), 1e-6);

    [Fact]
    public void The_estimated_variance_is_the_maximum_that_the_reference_finds()
    {
        SharedFrailtyFit fit = FitBladder(null);
        Close.Relative(Frailty.Number("cases/2/theta"), fit.FrailtyVariance, 1e-6);
        Agrees(2, fit, 1e-6);
        Close.Relative(Frailty.Number("none"), fit.NoFrailtyLogLikelihood, 1e-10);
        Assert.True(fit.FrailtyTest.PValue < 1e-4);
        Assert.False(fit.OnBoundary);
    }

    [Fact]
    public void No_frailty_is_an_ordinary_fit_on_the_boundary()
    {
        // Each cluster has one early and one late time: less alike than by chance.
        double[] time = [1, 12, 2, 11, 3, 10, 4, 9, 5, 8, 6, 7];
        bool[] events = [true, true, true, true, true, true, true, true, true, true, true, true];
        SurvivalTimes times = SurvivalTimes.RightCensored(time, events);
        DesignMatrix x = DesignMatrix.FromColumns(("x", [0.3, 1.0, 0.1, 0.9, 0.5, 0.2, 0.8, 0.4, 0.7, 0.6, 0.25, 0.75]));
        SharedFrailtyFit fit = SharedFrailtyCox.Fit(times, x, Clusters.From([1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6]));
        CoxFit ordinary = CoxRegression.Fit(times, x);
        Assert.True(fit.OnBoundary);
        Assert.Equal((0.0, 1.0), (fit.FrailtyVariance, fit.FrailtyTest.PValue));
        Assert.Equal(ordinary.Coefficients.Values, fit.Coefficients.Values);
        Close.Relative(ordinary.Coefficients.StandardError(0), fit.Coefficients.StandardError(0), 1e-12);
    }

    [Fact]
    public void Frailties_average_to_one_and_rise_with_events()
    {
        SharedFrailtyFit fit = SharedFrailtyCox.Fit(Data.Delayed, Data.X, Data.Clusters);
        Assert.True(fit.FrailtyVariance >= 0);
        Close.Relative(1, fit.Frailties.Average(), 1e-8);
    }

    [Fact]
    public void Shuffling_rows_changes_nothing()
    {
        RiskRows rows = Bladder.Events.CutAtEvents(gapTime: false, lastNumber: 1);
        DesignMatrix x = Bladder.X.SelectRows(rows.Unit);
        int[] order = SplitFollowUp.Shuffled(rows.Times.Rows, 9);
        SharedFrailtyFit a = SharedFrailtyCox.Fit(rows.Times, x, Clusters.From(rows.Unit));
        SharedFrailtyFit b = SharedFrailtyCox.Fit(rows.Times.SelectRows(order), x.SelectRows(order), Clusters.From(rows.Unit).SelectRows(order));
        Close.Relative(a.FrailtyVariance, b.FrailtyVariance, 1e-7);
        Close.Relative(a.Coefficients.StandardError(0), b.Coefficients.StandardError(0), 1e-6);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        Assert.Throws<InvalidInputError>(() => SharedFrailtyCox.Fit(Data.Delayed, Data.X, Data.Clusters, TiesMethod.ExactDiscrete));
        Assert.Throws<InvalidInputError>(() => SharedFrailtyCox.Fit(Data.Delayed, Data.X, Data.Clusters, heldVariance: 0));
        int[] one = new int[Data.Delayed.Rows];
        Assert.Throws<TooFewDataError>(() => SharedFrailtyCox.Fit(Data.Delayed, Data.X, Clusters.From(one)));
    }

    private static SharedFrailtyFit FitBladder(double? heldVariance)
    {
        RiskRows rows = Bladder.Events.CutAtEvents(gapTime: false, lastNumber: 1);
        return SharedFrailtyCox.Fit(rows.Times, Bladder.X.SelectRows(rows.Unit), Clusters.From(rows.Unit), heldVariance: heldVariance);
    }

    private static void Agrees(int reference, SharedFrailtyFit fit, double tolerance)
    {
        Close.Relative(Frailty.Number($"cases/{reference}/integrated"), fit.LogLikelihood, 1e-10);
        for (int j = 0; j < 3; j++)
            Close.Relative(Frailty.Number($"cases/{reference}/coef/{j}"), fit.Coefficients.Values[j], tolerance);
        for (int g = 0; g < 5; g++)
            Close.Relative(Frailty.Number($"cases/{reference}/frailty/{g}"), fit.Frailties[g], tolerance);
    }
}
