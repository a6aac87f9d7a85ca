using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

public class FineGrayTests
{
    private static readonly FineGrayOptions Sandwich = new() { ClusterVariance = CoxClusterVariance.Sandwich };

    [Fact]
    public void The_shares_of_the_clusters_add_up_to_the_information()
    {
        FineGrayLikelihood fit = FineGray.Fit(CompetingDelayed.FromZero, 1, CompetingDelayed.X).Likelihood!;
        double[] shares = FineGrayClusterInformation.Shares(fit, CompetingDelayed.Clusters);
        for (int k = 0; k < 4; k++)
            Close.Relative(fit.Information[k], Enumerable.Range(0, CompetingDelayed.Clusters.Count).Sum(g => shares[(4 * g) + k]), 1e-10);
    }

    [Fact]
    public void Leaving_a_cluster_out_widens_the_interval_and_costs_degrees_of_freedom()
    {
        FineGrayFit corrected = FineGray.Fit(CompetingDelayed.FromZero, 1, CompetingDelayed.X, CompetingDelayed.Clusters);
        FineGrayFit plain = FineGray.Fit(CompetingDelayed.FromZero, 1, CompetingDelayed.X, CompetingDelayed.Clusters, Sandwich);
        for (int j = 0; j < 2; j++)
        {
            Assert.True(corrected.Coefficients.StandardError(j) > plain.Coefficients.StandardError(j));
            Assert.InRange(corrected.Coefficients.Estimate(j).DegreesOfFreedom, 2, CompetingDelayed.Clusters.Count - 1);
        }
    }

    [Fact]
    public void Melanoma_deaths_agree_with_the_reference()
    {
        ReferenceCase melanoma = CompetingDelayed.Melanoma;
        DesignMatrix x = DesignMatrix.FromColumns(
            ("sex", melanoma.Column("sex")),
            ("age", melanoma.Column("age")),
            ("logthick", [.. melanoma.Column("thickness").Select(t => Math.Log(t))]),
            ("ulcer", melanoma.Column("ulcer")));
        FineGrayFit fit = FineGray.Fit(CompetingDelayed.MelanomaTimes, 1, x, options: Sandwich);
        for (int j = 0; j < 4; j++)
        {
            Close.Relative(melanoma.Number($"cases/finegray_crr/coef/{x.Names[j]}"), fit.Coefficients.Values[j], 1e-8);
            Close.Relative(melanoma.Number($"cases/finegray_crr/se/{j}"), fit.Coefficients.StandardError(j), 1e-6);
            Close.Relative(melanoma.Number($"cases/finegray_crr/se_inverse_info/{j}"), Math.Sqrt(fit.InformationCovariance[j, j]), 1e-6);
        }
        Close.Relative(melanoma.Number("cases/finegray_crr/loglik"), fit.LogLikelihood, 1e-10);
        Close.Relative(melanoma.Number("cases/finegray_crr/loglik_null"), fit.NullLogLikelihood, 1e-10);
    }

    [Fact]
    public void Heavy_ties_agree_with_the_reference_and_so_does_the_predicted_incidence()
    {
        ReferenceCase reference = CompetingDelayed.Case;
        FineGrayFit fit = FineGray.Fit(CompetingDelayed.FromZero, 1, CompetingDelayed.X, options: Sandwich);
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(reference.Number($"cases/finegray/coef/{j}"), fit.Coefficients.Values[j], 1e-6);
            Close.Relative(reference.Number($"cases/finegray/se_inverse_info/{j}"), Math.Sqrt(fit.InformationCovariance[j, j]), 1e-6);
            Close.Relative(reference.Number($"cases/finegray/se/{j}"), fit.Coefficients.StandardError(j), 1e-6);
        }
        Close.Relative(reference.Number("cases/finegray/loglik"), fit.LogLikelihood, 1e-10);
        IReadOnlyList<(double Time, double Incidence)> incidence = fit.CumulativeIncidence([1, 1]);
        for (int i = 0; i < incidence.Count; i++)
            Close.Relative(reference.Number($"cases/finegray/predict/{i}"), incidence[i].Incidence, 1e-6);
    }

    [Fact]
    public void The_influence_of_a_row_is_the_derivative_with_respect_to_its_weight()
    {
        // All rows many times over, and one row once more or once less: a central difference of the coefficients.
        const int Copies = 200;
        CompetingTimes times = CompetingDelayed.FromZero;
        int[] all = [.. Enumerable.Range(0, times.Rows * Copies).Select(i => i % times.Rows)];
        FineGrayFit fit = FineGray.Fit(times, 1, CompetingDelayed.X);
        double[] influence = FineGrayResiduals.Influence(fit.Likelihood!, TiedLosses.MeetTheCensoring);
        foreach (int row in new[] { 3, 17, 40, 62 })
        {
            int position = Array.IndexOf(fit.Likelihood!.Sets.Row, row);
            int[] more = [.. all, row];
            int[] less = [.. all.Where((r, i) => r != row || i >= times.Rows)];
            FineGrayFit up = FineGray.Fit(times.SelectRows(more), 1, CompetingDelayed.X.SelectRows(more));
            FineGrayFit down = FineGray.Fit(times.SelectRows(less), 1, CompetingDelayed.X.SelectRows(less));
            for (int j = 0; j < 2; j++)
            {
                double expected = Copies * (up.Coefficients.Values[j] - down.Coefficients.Values[j]) / 2;
                double found = (fit.InformationCovariance[j, 0] * influence[position]) + (fit.InformationCovariance[j, 1] * influence[times.Rows + position]);
                Close.Relative(expected, found, 1e-3);
            }
        }
    }

    [Fact]
    public void Without_competing_events_the_fit_is_a_Cox_regression_with_Breslow_ties()
    {
        CompetingTimes one = CompetingTimes.RightCensored(CompetingDelayed.Case.Column("exit"), [.. CompetingDelayed.Causes.Select(c => c == 1 ? 1 : 0)]);
        FineGrayFit fit = FineGray.Fit(one, 1, CompetingDelayed.X, CompetingDelayed.Clusters);
        CoxOptions breslow = new() { Ties = TiesMethod.Breslow };
        CoxFit cox = CoxRegression.Fit(one.AnyCause, CompetingDelayed.X, CompetingDelayed.Clusters, options: breslow);
        Close.Relative(cox.LogLikelihood, fit.LogLikelihood, 1e-12);
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(cox.Coefficients.Values[j], fit.Coefficients.Values[j], 1e-10);
            Close.Relative(cox.Coefficients.StandardError(j), fit.Coefficients.StandardError(j), 1e-10);
            Close.Relative(cox.Coefficients.Estimate(j).DegreesOfFreedom, fit.Coefficients.Estimate(j).DegreesOfFreedom, 1e-10);
        }
    }

    [Fact]
    public void Every_row_twice_in_its_cluster_leaves_the_fit_unchanged()
    {
        int n = CompetingDelayed.FromZero.Rows;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        FineGrayFit once = FineGray.Fit(CompetingDelayed.FromZero, 1, CompetingDelayed.X, CompetingDelayed.Clusters);
        FineGrayFit doubled = FineGray.Fit(CompetingDelayed.FromZero.SelectRows(twice), 1, CompetingDelayed.X.SelectRows(twice), CompetingDelayed.Clusters.SelectRows(twice));
        for (int j = 0; j < 2; j++)
        {
            Close.Relative(once.Coefficients.Values[j], doubled.Coefficients.Values[j], 1e-9);
            Close.Relative(once.Coefficients.StandardError(j), doubled.Coefficients.StandardError(j), 1e-9);
        }
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        DesignMatrix x = DesignMatrix.FromColumns(("x", [1, 2, 1.5]));
        CompetingTimes times = CompetingTimes.RightCensored([1, 2, 3], [2, 2, 0]);
        Assert.Contains("cause 1", Assert.Throws<TooFewDataError>(() => FineGray.Fit(times, 1, x)).Message, StringComparison.Ordinal);
        CompetingTimes late = CompetingTimes.CountingProcess([0, 1, 0], [1, 2, 3], [1, 2, 0]);
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => FineGray.Fit(late, 1, x)).Row);
        CompetingTimes split = CompetingTimes.RightCensored([1, 2, 3, 4, 5, 6], [1, 0, 1, 2, 1, 0]);
        DesignMatrix all = DesignMatrix.FromColumns(("x", [1, 0, 1, 0, 1, 0]));
        Assert.Equal(["x"], Assert.Throws<SeparationError>(() => FineGray.Fit(split, 1, all)).Columns);
    }
}
