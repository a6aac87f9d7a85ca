using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests;

/// <summary>One step comes near the refit without the cluster, whatever order a model keeps its rows in.</summary>
public sealed class LeaveOutShiftsTests
{
    private static readonly Clusters Persons = Clusters.From(Peers.Cohort.Knees.Person);
    private static readonly DesignMatrix Columns = LogisticRegressionKnees().SelectColumns([1, 2]);

    [Fact]
    public void Linear_regression()
        => AssertNearRefits((x, rows) => LinearRegression.Fit(DesignMatrix.WithIntercept(Named(x)), Of("lax", rows)).ClusterRobust(Persons.SelectRows(rows)));

    [Fact]
    public void Logistic_regression()
        => AssertNearRefits((x, rows) => LogisticRegression.Fit(DesignMatrix.WithIntercept(Named(x)), Of("any", rows), Persons.SelectRows(rows)).Coefficients);

    [Fact]
    public void Proportional_odds_keep_the_numbers_of_the_caller()
        => AssertNearRefits((x, rows) => ProportionalOddsRegression.Fit(
            x, [.. Of("lax", rows).Select(v => (int)v)], [.. Enumerable.Range(0, 10).Select(k => $"{k}")], Persons.SelectRows(rows)).Coefficients);

    [Fact]
    public void Proportional_hazards()
        => AssertNearRefits((x, rows) => CoxRegression.Fit(SurvivalTimes.RightCensored(Of("t1", rows), [.. Of("st1", rows).Select(v => v > 0)]), x, Persons.SelectRows(rows)).Coefficients);

    [Fact]
    public void Matched_sets_that_do_not_tell_move_nothing()
    {
        double[] any = Of("any", [.. Enumerable.Range(0, Persons.Rows)]);
        Coefficients fit = ConditionalLogisticRegression.Fit(Columns.SelectColumns([0]), any, Persons).Coefficients;
        for (int person = 0; person < Persons.Count; person++)
        {
            bool tells = Persons.Members(person).ToArray().Select(i => any[i]).Distinct().Count() > 1;
            Assert.Equal(tells, fit.LeaveOut!.Of(person, 0) != 0);
        }
        int farthest = fit.LeaveOut!.Farthest(0, 1)[0];
        int[] rest = Without(farthest);
        Coefficients refit = ConditionalLogisticRegression.Fit(Columns.SelectColumns([0]).SelectRows(rest), [.. rest.Select(i => any[i])], Persons.SelectRows(rest)).Coefficients;
        Close.Relative(refit.Values[0] - fit.Values[0], fit.LeaveOut.Of(farthest, 0), 0.2);
    }

    [Fact]
    public void The_farthest_come_first_and_a_fit_without_clusters_has_none()
    {
        GeneralizedLinearFit fit = LogisticRegression.Fit(LogisticRegressionKnees(), Of("any", [.. Enumerable.Range(0, Persons.Rows)]), Persons);
        LeaveOutShifts shifts = fit.Coefficients.LeaveOut!;
        double[] sizes = [.. Enumerable.Range(0, Persons.Count).Select(c => Math.Abs(shifts.Of(c, 1))).OrderDescending()];
        Assert.Equal(sizes[..7], shifts.Farthest(1, 7).Select(c => Math.Abs(shifts.Of(c, 1))));
        Assert.Null(LogisticRegression.Fit(LogisticRegressionKnees(), Of("any", [.. Enumerable.Range(0, Persons.Rows)])).Coefficients.LeaveOut);
    }

    private static void AssertNearRefits(Func<DesignMatrix, int[], Coefficients> fit)
    {
        Coefficients whole = fit(Columns, [.. Enumerable.Range(0, Columns.Rows)]);
        int term = whole.IndexOf("av");
        Assert.Equal(Persons.Count, whole.LeaveOut!.Clusters);
        foreach (int person in whole.LeaveOut.Farthest(term, 5))
        {
            int[] rest = Without(person);
            Close.Relative(fit(Columns.SelectRows(rest), rest).Values[term] - whole.Values[term], whole.LeaveOut.Of(person, term), 0.2);
        }
    }

    private static int[] Without(int person) => [.. Enumerable.Range(0, Persons.Rows).Where(i => Persons.ClusterOfRow[i] != person)];

    private static double[] Of(string column, int[] rows) => [.. rows.Select(i => Peers.Cohort.Knees[column][i])];

    private static DesignMatrix LogisticRegressionKnees() => Regression.LogisticRegressionTests.Knees("av", "age");

    private static (string, IReadOnlyList<double>)[] Named(DesignMatrix x)
        => [.. x.Names.Select((n, j) => (n, (IReadOnlyList<double>)x.Column(j).ToArray()))];
}
