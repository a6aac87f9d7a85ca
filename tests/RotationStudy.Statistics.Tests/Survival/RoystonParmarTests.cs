using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class RoystonParmarTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Survival/parametric");

    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;

    [Theory]
    [InlineData("spline2", 2, false)]
    [InlineData("spline3_delayed", 3, true)]
    public void The_maximum_agrees_with_a_general_optimiser(string name, int knots, bool delayed)
    {
        RoystonParmarFit fit = RoystonParmar.Fit(delayed ? Data.Delayed : Data.FromZero, Data.X, knots);
        Close.Relative(Reference.Number($"cases/{name}/loglik"), fit.LogLikelihood, 1e-11);
        for (int k = 0; k < knots + 2; k++)
            Assert.Equal(Reference.Number($"cases/{name}/knots/{k}"), fit.Knots[k], 12);
        for (int j = 0; j < knots + 4; j++)
        {
            Close.Relative(Reference.Number($"cases/{name}/theta/{j}"), fit.Coefficients.Values[j], 1e-8);
            Close.Relative(Reference.Number($"cases/{name}/se/{j}"), fit.Coefficients.StandardError(j), 1e-8);
        }
    }

    [Fact]
    public void Without_inner_knots_it_is_the_Weibull_model()
    {
        RoystonParmarFit spline = RoystonParmar.Fit(Data.Delayed, Data.X, 0, Data.Clusters);
        WeibullFit weibull = WeibullRegression.Fit(Data.Delayed, Data.X, Data.Clusters);
        Close.Relative(weibull.LogLikelihood, spline.LogLikelihood, 1e-12);
        for (int j = 0; j < 4; j++)
            Close.Relative(weibull.Hazard.StandardError(j), spline.Coefficients.StandardError(j), 1e-9);
    }

    [Fact]
    public void Hazard_ratios_are_close_to_those_of_Cox_regression()
    {
        CoxFit cox = CoxRegression.Fit(Data.Delayed, Data.X);
        RoystonParmarFit spline = RoystonParmar.Fit(Data.Delayed, Data.X, 2);
        Assert.True(Math.Abs(cox.Coefficients.Estimate("x1").Value - spline.Coefficients.Estimate("x1").Value) < 0.5 * cox.Coefficients.StandardError(0));
    }

    [Fact]
    public void The_unit_of_time_changes_no_hazard_ratio_and_no_curve()
    {
        SurvivalTimes days = SurvivalTimes.RightCensored([.. Data.Case.Column("exit").Select(t => 365.25 * t)], [.. Data.Case.Column("event").Select(e => e == 1)]);
        RoystonParmarFit a = RoystonParmar.Fit(Data.FromZero, Data.X, 2);
        RoystonParmarFit b = RoystonParmar.Fit(days, Data.X, 2);
        Close.Relative(a.Coefficients.Estimate("x2").Value, b.Coefficients.Estimate("x2").Value, 1e-7);
        (double survival, ConfidenceInterval interval) = a.Survival(5, [0.3, 1]);
        (double same, ConfidenceInterval sameInterval) = b.Survival(5 * 365.25, [0.3, 1]);
        Close.Relative(survival, same, 1e-8);
        Close.Relative(interval.Lower, sameInterval.Lower, 1e-6);
        Assert.True(interval.Lower < survival && survival < interval.Upper);
    }

    [Fact]
    public void Impossible_knots_and_times_are_refused()
    {
        Assert.Throws<InvalidInputError>(() => RoystonParmar.Fit(Data.FromZero, Data.X, 12));
        DesignMatrix x = DesignMatrix.FromColumns(("x", [1, 2, 1.5]));
        Assert.Contains("distinct event times", Assert.Throws<TooFewDataError>(() => RoystonParmar.Fit(SurvivalTimes.RightCensored([1, 1, 3], [true, true, false]), x)).Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => RoystonParmar.Fit(Data.FromZero, Data.X).LogCumulativeHazard(0, [0, 0]));
    }
}
