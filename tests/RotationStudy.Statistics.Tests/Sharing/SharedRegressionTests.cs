using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;
using RotationStudy.Statistics.Sharing;

namespace RotationStudy.Statistics.Tests.Sharing;

/// <summary>Three sources play against the rows together; the data are invented.</summary>
public class SharedRegressionTests
{
    private const int Persons = 150;
    private static readonly Data All = Data.Draw();

    [Fact]
    public void Least_squares_in_one_round_is_the_pooled_fit_with_its_sandwich()
    {
        RegressionSums sums = RegressionSums.Combine([.. Sources(SharedFamily.Linear, All.Number, []).Select(s => s.At(new double[4], withProducts: true))]);
        Coefficients expected = LinearRegression.Fit(All.Design, All.Number).ClusterRobust(All.Clusters, ClusterVariance.CR1);
        Same(expected, SharedRegression.LeastSquares(sums), 1e-10);
    }

    [Fact]
    public void Least_squares_with_the_closing_round_is_the_pooled_fit_with_its_bias_reduced_variance()
    {
        SourceRows[] sources = Sources(SharedFamily.Linear, All.Number, []);
        SharedStep step = SharedRegression.Step(RegressionSums.Combine([.. sources.Select(s => s.At(new double[4]))]));
        RobustSums closing = RobustSums.Combine([.. sources.Select(s => s.Robust(step.Next, step.Bread, Persons))]);
        Same(LinearRegression.Fit(All.Design, All.Number).ClusterRobust(All.Clusters), SharedRegression.Robust(step.Next, step.Bread, closing), 1e-10);
    }

    [Theory]
    [InlineData(SharedFamily.Logistic)]
    [InlineData(SharedFamily.Poisson)]
    public void Rounds_of_newtons_method_end_at_the_pooled_fit(SharedFamily family)
    {
        bool logistic = family == SharedFamily.Logistic;
        double[] outcome = logistic ? All.Event : All.Count;
        double[] offset = logistic ? [] : All.LogTime;
        SourceRows[] sources = Sources(family, outcome, offset);
        IReadOnlyList<double> at = new double[4];
        SharedStep step;
        int rounds = 0;
        do
        {
            step = SharedRegression.Step(RegressionSums.Combine([.. sources.Select(s => s.At(at))]));
            if (step.Decrement > SharedRegression.Tolerance)
                at = step.Next;
            Assert.InRange(++rounds, 1, 12);
        }
        while (step.Decrement > SharedRegression.Tolerance);
        RobustSums closing = RobustSums.Combine([.. sources.Select(s => s.Robust(at, step.Bread, Persons))]);
        Coefficients expected = logistic
            ? LogisticRegression.Fit(All.Design, outcome, All.Clusters).Coefficients
            : PoissonRegression.Fit(All.Design, outcome, offset, All.Clusters).Coefficients;
        Same(expected, SharedRegression.Robust(at, step.Bread, closing), 1e-8);
    }

    [Fact]
    public void Sums_of_some_columns_are_those_that_the_sources_would_have_made_of_them()
    {
        SourceRows[] whole = Sources(SharedFamily.Linear, All.Number, []);
        RegressionSums few = RegressionSums.Combine([.. whole.Select(s => s.At(new double[4], withProducts: true))]).Select([0, 2]);
        Coefficients expected = LinearRegression.Fit(All.Design.SelectColumns([0, 2]), All.Number).ClusterRobust(All.Clusters, ClusterVariance.CR1);
        Same(expected, SharedRegression.LeastSquares(few), 1e-10);
    }

    [Fact]
    public void Sums_at_different_coefficients_are_not_joined()
    {
        SourceRows[] sources = Sources(SharedFamily.Linear, All.Number, []);
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => RegressionSums.Combine([sources[0].At(new double[4]), sources[1].At([1, 0, 0, 0])]));
        Assert.Contains("at other coefficients", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_column_that_depends_on_others_is_named()
    {
        DesignMatrix twice = DesignMatrix.WithIntercept(("a", [1, 2, 3, 5.0]), ("b", [2, 4, 6, 10.0]));
        RegressionSums sums = new SourceRows(SharedFamily.Linear, twice, [1, 2, 3, 4.0], [], Clusters.EachRow(4)).At(new double[3]);
        Assert.Equal(["b"], Assert.Throws<RankDeficientError>(() => SharedRegression.Step(sums)).Columns);
    }

    [Fact]
    public void An_outcome_outside_the_family_is_refused_with_its_row()
    {
        InvalidInputError error = Assert.Throws<InvalidInputError>(() => new SourceRows(SharedFamily.Logistic, DesignMatrix.InterceptOnly(2), [0, 2], [], Clusters.EachRow(2)));
        Assert.Equal(1, error.Row);
    }

    private static SourceRows[] Sources(SharedFamily family, double[] outcome, double[] offset)
        => [.. Enumerable.Range(0, 3).Select(source =>
        {
            // Persons 0 to 29, 30 to 89 and 90 to 149.
            int[] rows = [.. Enumerable.Range(0, All.Design.Rows).Where(i => (All.Person[i] < 30 ? 0 : All.Person[i] < 90 ? 1 : 2) == source)];
            return new SourceRows(
                family, All.Design.SelectRows(rows), [.. rows.Select(r => outcome[r])], offset.Length == 0 ? [] : [.. rows.Select(r => offset[r])],
                All.Clusters.SelectRows(rows));
        })];

    private static void Same(Coefficients expected, Coefficients found, double tolerance)
    {
        Assert.Equal(expected.Terms, found.Terms);
        Assert.Equal(expected.VarianceMethod, found.VarianceMethod);
        for (int j = 0; j < expected.Values.Count; j++)
        {
            Close.Relative(expected.Values[j], found.Values[j], tolerance, "value");
            Close.Relative(expected.StandardError(j), found.StandardError(j), tolerance, "standard error");
            Close.Relative(expected.DegreesOfFreedom[j], found.DegreesOfFreedom[j], tolerance, "degrees of freedom");
        }
    }

    /// <summary>One to three rows a person.</summary>
    private sealed record Data(DesignMatrix Design, int[] Person, Clusters Clusters, double[] Number, double[] Event, double[] Count, double[] LogTime)
    {
        internal static Data Draw()
        {
            RandomStream random = new(5, "shared regression");
            List<int> person = [];
            List<double> age = [];
            List<double> sex = [];
            List<double> angle = [];
            List<double> number = [];
            List<double> happened = [];
            List<double> count = [];
            List<double> logTime = [];
            for (int i = 0; i < Persons; i++)
            {
                (double a, double s, double u) = (random.Normal(), random.Bernoulli(0.4) ? 1 : 0, random.Normal());
                for (int row = 0; row <= i % 3; row++)
                {
                    double x = random.Normal();
                    double time = Math.Log(1 + random.Uniform());
                    person.Add(i);
                    age.Add(a);
                    sex.Add(s);
                    angle.Add(x);
                    number.Add(1 + a - s + (0.5 * x) + u + random.Normal());
                    happened.Add(random.Bernoulli(1 / (1 + Math.Exp(0.5 - (0.6 * x) - (0.5 * u)))) ? 1 : 0);
                    count.Add(random.Poisson(Math.Exp(-0.3 + (0.4 * x) + (0.4 * u) + time)));
                    logTime.Add(time);
                }
            }
            return new Data(
                DesignMatrix.WithIntercept(("age", age), ("sex", sex), ("angle", angle)), [.. person], Clusters.From(person),
                [.. number], [.. happened], [.. count], [.. logTime]);
        }
    }
}
