using RotationStudy.Statistics.Imputation;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Imputation;

public class ChainedEquationsTests
{
    private static readonly ReferenceCase Peers = ReferenceCase.Read("Imputation/peers_300");
    private static readonly string[] PeerColumns = ["any", "av", "tfa", "lax", "quad", "pain", "out", "age_enrol", "female"];

    [Fact]
    public void The_cohort_of_300_gives_the_pooled_regression_of_the_reference_library_within_Monte_Carlo_error()
    {
        ImputedTables tables = ChainedEquations.Run([.. PeerColumns.Select(n => Column(n, Peers.Column(n)))], new ImputationOptions { Imputations = 60, Iterations = 5, Seed = 1 });
        Assert.Equal((int)Peers.Number("missing/av"), tables.Missing("av"));
        string[] covariates = ["av", "tfa", "lax", "age_enrol", "female"];
        PooledCoefficients found = tables.Pool(
            column => LogisticRegression.Fit(DesignMatrix.WithIntercept([.. covariates.Select(c => (c, column(c)))]), column("any").ToArray()).Coefficients,
            600 - 6);
        for (int k = 0; k < 6; k++)
        {
            double error = Math.Sqrt(Peers.Number($"between/{k}") * ((1.0 / 60) + (1.0 / 400)));
            Assert.InRange((found.Coefficients.Values[k] - Peers.Number($"estimate/{k}")) / error, -4, 4);
            Close.Relative(Peers.Number($"within/{k}"), found.Terms[k].WithinVariance, 0.02);
            Close.Relative(Peers.Number($"between/{k}"), found.Terms[k].BetweenVariance, 0.9);
        }
    }

    [Fact]
    public void The_number_of_threads_changes_no_byte_and_observed_values_stay()
    {
        IReadOnlyList<ImputedColumn> columns = Mixed();
        ImputationOptions options = new() { Imputations = 6, Iterations = 3, Seed = 5 };
        Clusters clusters = Clusters.From([.. Enumerable.Range(0, 120).Select(i => i / 2)]);
        ImputedTables one = ChainedEquations.Run(columns, options with { Threads = 1 }, clusters);
        ImputedTables many = ChainedEquations.Run(columns, options with { Threads = 4 }, clusters);
        foreach (ImputedColumn column in columns)
        {
            for (int m = 0; m < one.Count; m++)
            {
                Assert.Equal(one.Column(m, column.Name), many.Column(m, column.Name));
                for (int i = 0; i < one.Rows; i++)
                {
                    if (column.Values[i] is double v)
                        Assert.Equal(v, one.Column(m, column.Name)[i]);
                }
            }
        }
        Assert.NotEqual(one.Column(0, "y"), one.Column(1, "y"));
        Assert.Equal(3, one.MeanTrace(0, "y").Count);
        Assert.All(one.MeanTrace(2, "y"), v => Assert.True(double.IsFinite(v)));
    }

    [Fact]
    public void Matching_gives_values_that_were_observed_and_categories_stay_categories()
    {
        ImputedTables tables = ChainedEquations.Run(Mixed(), new ImputationOptions { Imputations = 3, Iterations = 2 }, Clusters.From([.. Enumerable.Range(0, 120).Select(i => i / 2)]));
        HashSet<double> seen = [.. Mixed()[0].Values.OfType<double>()];
        Assert.All(tables.Column(1, "y"), v => Assert.Contains(v, seen));
        Assert.All(tables.Column(1, "event"), v => Assert.True(v is 0 or 1));
        Assert.All(tables.Column(1, "grade"), v => Assert.True(v is 0 or 1 or 2));
    }

    [Theory]
    [InlineData(ImputationModel.PredictiveMeanMatching)]
    [InlineData(ImputationModel.Normal)]
    [InlineData(ImputationModel.TwoLevelNormal)]
    public void Values_missing_at_random_do_not_bias_a_regression(ImputationModel model)
    {
        // y = 1 + 0.5 x + u + e; the larger x, the more of y is missing, so that the mean of what was observed is biased.
        const int Rows = 3000;
        RandomStream random = new(8, "missing at random");
        double[] x = new double[Rows];
        double?[] y = new double?[Rows];
        double u = 0;
        for (int i = 0; i < Rows; i++)
        {
            if (i % 2 == 0)
                u = 0.7 * random.Normal();
            x[i] = random.Normal();
            double value = 1 + (0.5 * x[i]) + u + (0.7 * random.Normal());
            y[i] = random.Bernoulli(1 / (1 + Math.Exp(-1.5 * x[i]))) ? null : value;
        }
        Clusters clusters = Clusters.From([.. Enumerable.Range(0, Rows).Select(i => i / 2)]);
        ImputedColumn[] columns = [Column("x", x), new ImputedColumn { Name = "y", Values = y, Model = model }];
        ImputedTables tables = ChainedEquations.Run(columns, new ImputationOptions { Imputations = 10, Iterations = 5 }, clusters);
        double mean = Enumerable.Range(0, 10).Average(m => tables.Column(m, "y").Average());
        Assert.InRange(mean, 0.87, 1.13);
        Assert.True(y.OfType<double>().Average() < 0.85);
        if (model == ImputationModel.TwoLevelNormal)
        {
            // The covariance between the two rows of a cluster is kept: 0.49 + 0 from independent x.
            double covariance = Enumerable.Range(0, 10).Average(m => PairCovariance(tables.Column(m, "y"), mean));
            Assert.InRange(covariance, 0.35, 0.63);
        }
    }

    [Fact]
    public void A_passive_column_follows_its_sources()
    {
        RandomStream random = new(3, "passive");
        double?[] x = [.. Enumerable.Range(0, 80).Select(i => i % 4 == 0 ? (double?)null : random.Normal())];
        ImputedColumn[] columns =
        [
            new() { Name = "x", Values = x },
            Column("z", [.. Enumerable.Range(0, 80).Select(_ => random.Normal())]),
            ImputedColumn.Computed("square", [.. x.Select(v => v * v)], ["x"], s => s[0] * s[0]),
        ];
        ImputedTables tables = ChainedEquations.Run(columns, new ImputationOptions { Imputations = 2, Iterations = 3 });
        for (int i = 0; i < 80; i++)
            Assert.Equal(tables.Column(0, "x")[i] * tables.Column(0, "x")[i], tables.Column(0, "square")[i]);
    }

    [Fact]
    public void A_shift_moves_the_imputed_values_by_itself_and_tips_the_conclusion()
    {
        RandomStream random = new(4, "shift");
        double?[] y = [.. Enumerable.Range(0, 60).Select(i => i % 3 == 0 ? (double?)null : 0.5 + random.Normal())];
        double[] x = [.. Enumerable.Range(0, 60).Select(_ => random.Normal())];
        TippingPointResult found = TippingPoint.Search([0, -1, -2, -4, 1], delta =>
        {
            ImputedTables tables = ChainedEquations.Run([Column("x", x), new ImputedColumn { Name = "y", Values = y, Delta = delta }], new ImputationOptions { Imputations = 5, Iterations = 1 });
            double[] means = [.. Enumerable.Range(0, 5).Select(m => tables.Column(m, "y").Average())];
            return RubinPooling.Pool("mean", means, [.. means.Select(_ => 0.015)]);
        });
        // A third of the rows is shifted, and the stream is the same: the mean moves by a third of delta.
        foreach (DeltaResult r in found.Results)
            Close.Relative(found.Results.First(q => q.Delta == 0).Result.Estimate.Value + (r.Delta / 3), r.Result.Estimate.Value, 1e-10);
        Assert.NotNull(found.Tipping);
        Assert.True(found.Tipping < 0);
    }

    [Fact]
    public void A_predictor_that_repeats_another_is_left_out_and_named()
    {
        double[] x = [1, 2, 4, 3, 6, 5, 7, 9];
        ImputedColumn[] columns = [Column("x", x), Column("twice", [.. x.Select(v => 2 * v)]), new() { Name = "y", Values = [1, 2, null, 3, 7, null, 6, 8] }];
        ImputedTables tables = ChainedEquations.Run(columns, new ImputationOptions { Imputations = 2, Iterations = 1 });
        Assert.Contains("'twice' was left out of the model of 'y'", Assert.Single(tables.Warnings), StringComparison.Ordinal);
    }

    [Fact]
    public void Tables_that_cannot_be_imputed_are_refused()
    {
        ImputationOptions options = new() { Imputations = 2 };
        ImputedColumn x = Column("x", [1, 2, 3]);
        Assert.Contains("0 observed values", Message(x, new ImputedColumn { Name = "y", Values = [null, null, null] }), StringComparison.Ordinal);
        Assert.Contains("other than 0 and 1", Message(x, new ImputedColumn { Name = "y", Values = [1, 2, null], Model = ImputationModel.Logistic }), StringComparison.Ordinal);
        Assert.Contains("one category", Message(x, new ImputedColumn { Name = "y", Values = [1, 1, null], Model = ImputationModel.Logistic }), StringComparison.Ordinal);
        Assert.Contains("no clusters", Message(x, new ImputedColumn { Name = "y", Values = [1, 2, null], Model = ImputationModel.TwoLevelNormal }), StringComparison.Ordinal);
        Assert.Contains("named twice", Message(x, x), StringComparison.Ordinal);
        Assert.Contains("not in the table", Message(x, new ImputedColumn { Name = "y", Values = [1, 2, null], Predictors = ["z"] }), StringComparison.Ordinal);
        Assert.Contains("for 2 coefficients", Message(x, new ImputedColumn { Name = "y", Values = [1, 2, null] }), StringComparison.Ordinal);

        string Message(params ImputedColumn[] columns) => Assert.ThrowsAny<StatisticsError>(() => ChainedEquations.Run(columns, options)).Message;
    }

    private static ImputedColumn Column(string name, double[] values)
        => new() { Name = name, Values = [.. values.Select(v => double.IsNaN(v) ? (double?)null : v)] };

    private static double PairCovariance(IReadOnlyList<double> y, double mean)
    {
        double sum = 0;
        for (int i = 0; i < y.Count; i += 2)
            sum += (y[i] - mean) * (y[i + 1] - mean) * 2 / y.Count;
        return sum;
    }

    private static ImputedColumn[] Mixed()
    {
        RandomStream random = new(2, "mixed");
        double[] x = [.. Enumerable.Range(0, 120).Select(_ => random.Normal())];
        double?[] Made(Func<double, double> value, double share) => [.. x.Select(v => random.Bernoulli(share) ? (double?)null : value(v))];
        return
        [
            new ImputedColumn { Name = "y", Values = Made(v => v + random.Normal(), 0.3) },
            Column("x", x),
            new ImputedColumn { Name = "event", Values = Made(v => v + random.Normal() > 0 ? 1 : 0, 0.2), Model = ImputationModel.Logistic },
            new ImputedColumn { Name = "grade", Values = Made(v => Math.Clamp(Math.Round(v + 1 + random.Normal()), 0, 2), 0.25), Model = ImputationModel.Ordinal },
            new ImputedColumn { Name = "shared", Values = Made(v => v + random.Normal(), 0.2), Model = ImputationModel.TwoLevelNormal },
        ];
    }
}
