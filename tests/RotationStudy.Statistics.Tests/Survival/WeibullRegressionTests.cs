using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class WeibullRegressionTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Survival/parametric");

    private static readonly ClusteredDelayed Data = ClusteredDelayed.Instance;

    [Fact]
    public void The_accelerated_form_agrees_with_the_reference()
    {
        WeibullFit fit = WeibullRegression.Fit(Data.FromZero, Data.X);
        WeibullFit clustered = WeibullRegression.Fit(Data.FromZero, Data.X, Data.Clusters);
        for (int j = 0; j < 3; j++)
            Close.Relative(Reference.Number($"cases/weibull/coef/{j}"), fit.Accelerated.Values[j], 1e-8);
        Close.Relative(Reference.Number("cases/weibull/log_scale"), fit.Accelerated.Values[3], 1e-8);
        for (int j = 0; j < 4; j++)
        {
            Close.Relative(Reference.Number($"cases/weibull/se/{j}"), fit.Accelerated.StandardError(j), 1e-7);
            Close.Relative(Reference.Number($"cases/weibull/se_robust/{j}"), clustered.Accelerated.StandardError(j), 1e-7);
        }
        Close.Relative(Reference.Number("cases/weibull/loglik"), fit.LogLikelihood, 1e-10);
    }

    [Fact]
    public void Delayed_entry_agrees_with_a_general_optimiser()
    {
        WeibullFit fit = WeibullRegression.Fit(Data.Delayed, Data.X);
        Close.Relative(Reference.Number("cases/weibull_delayed/loglik"), fit.LogLikelihood, 1e-10);
        for (int j = 0; j < 4; j++)
            Close.Relative(Reference.Number($"cases/weibull_delayed/theta/{j}"), fit.Hazard.Values[j], 1e-8);
    }

    [Fact]
    public void The_two_forms_are_the_same_model()
    {
        WeibullFit fit = WeibullRegression.Fit(Data.Delayed, Data.X);
        Close.Relative(-fit.Hazard.Values[2] / fit.Shape, fit.Accelerated.Values[1], 1e-14);
        Close.Relative(Math.Exp(-fit.Accelerated.Values[3]), fit.Shape, 1e-14);
        Close.Relative(fit.Hazard.StandardError(1) / fit.Shape, fit.Accelerated.StandardError(3), 1e-12);
    }

    [Fact]
    public void Splitting_follow_up_changes_nothing()
    {
        (SurvivalTimes split, int[] rowOf) = SplitFollowUp.At(Data.Delayed, 6.5);
        WeibullFit whole = WeibullRegression.Fit(Data.Delayed, Data.X, Data.Clusters);
        WeibullFit pieces = WeibullRegression.Fit(split, Data.X.SelectRows(rowOf), Data.Clusters.SelectRows(rowOf));
        Close.Relative(whole.LogLikelihood, pieces.LogLikelihood, 1e-12);
        for (int j = 0; j < 4; j++)
        {
            Close.Relative(whole.Hazard.Values[j], pieces.Hazard.Values[j], 1e-8);
            Close.Relative(whole.Hazard.StandardError(j), pieces.Hazard.StandardError(j), 1e-8);
        }
    }

    [Fact]
    public void The_unit_of_time_moves_the_intercept_only()
    {
        SurvivalTimes days = SurvivalTimes.RightCensored([.. Data.Case.Column("exit").Select(t => 365.25 * t)], [.. Data.Case.Column("event").Select(e => e == 1)]);
        WeibullFit a = WeibullRegression.Fit(Data.FromZero, Data.X);
        WeibullFit b = WeibullRegression.Fit(days, Data.X);
        Close.Relative(a.Shape, b.Shape, 1e-8);
        Close.Relative(a.Hazard.Values[2], b.Hazard.Values[2], 1e-8);
        Close.Relative(a.Accelerated.Values[0] + Math.Log(365.25), b.Accelerated.Values[0], 1e-8);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        DesignMatrix x = DesignMatrix.FromColumns(("x", [1, 2, 1.5]));
        Assert.Throws<TooFewDataError>(() => WeibullRegression.Fit(SurvivalTimes.RightCensored([1, 2, 3], [false, false, false]), x));
        Assert.Equal(0, Assert.Throws<InvalidInputError>(() => WeibullRegression.Fit(SurvivalTimes.CountingProcess([-1, 0, 0], [1, 2, 3], [true, true, false]), x)).Row);
        DesignMatrix constant = DesignMatrix.FromColumns(("c", [2, 2, 2]));
        Assert.Equal(["c"], Assert.Throws<RankDeficientError>(() => WeibullRegression.Fit(SurvivalTimes.RightCensored([1, 2, 3], [true, true, false]), constant)).Columns);
    }
}
