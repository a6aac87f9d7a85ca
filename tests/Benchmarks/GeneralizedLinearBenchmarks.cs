using BenchmarkDotNet.Attributes;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Benchmarks;

/// <summary>Single fits at 10,000 rows of 6 columns in 5,000 clusters.</summary>
[MemoryDiagnoser]
public class GeneralizedLinearBenchmarks
{
    private const int Rows = 10000;
    private static readonly GeneralizedLinearOptions Sums = new() { Variance = ClusterVariance.CR0 };
    private static readonly GeneralizedLinearOptions Reduced = new() { Variance = ClusterVariance.CR2 };
    private static readonly string[] Grades = ["0", "1", "2", "3"];
    private readonly double[] outcome = new double[Rows];
    private readonly double[] counts = new double[Rows];
    private readonly int[] grades = new int[Rows];
    private DesignMatrix x = null!;
    private Clusters clusters = null!;

    [GlobalSetup]
    public void Setup()
    {
        Random random = new(1);
        double[][] columns = [.. Enumerable.Range(0, 5).Select(_ => Enumerable.Range(0, Rows).Select(_ => random.NextDouble()).ToArray())];
        for (int i = 0; i < Rows; i++)
        {
            double eta = columns[0][i] - (0.5 * columns[1][i]);
            outcome[i] = random.NextDouble() < 1 / (1 + Math.Exp(0.7 - eta)) ? 1 : 0;
            counts[i] = random.NextDouble() < 0.3 ? 0 : Math.Floor(-Math.Log(1 - random.NextDouble()) * Math.Exp(eta));
            grades[i] = (int)Math.Clamp(1.5 + eta + (2 * (random.NextDouble() - 0.5)), 0, 3);
        }
        x = DesignMatrix.WithIntercept([.. columns.Select((c, j) => ($"x{j}", (IReadOnlyList<double>)c))]);
        clusters = Clusters.From([.. Enumerable.Range(0, Rows).Select(i => i / 2)]);
    }

    [Benchmark]
    public GeneralizedLinearFit LogisticClusterSums() => LogisticRegression.Fit(x, outcome, clusters, Sums);

    [Benchmark]
    public GeneralizedLinearFit LogisticBiasReduced() => LogisticRegression.Fit(x, outcome, clusters, Reduced);

    [Benchmark]
    public GeneralizedLinearFit Poisson() => PoissonRegression.Fit(x, counts, [], clusters, Sums);

    [Benchmark]
    public NegativeBinomialFit NegativeBinomial() => NegativeBinomialRegression.Fit(x, counts);

    [Benchmark]
    public GeneralizedLinearFit ModifiedPoisson() => ModifiedPoissonRegression.Fit(x, outcome, clusters, Sums);

    [Benchmark]
    public FirthFit Firth() => FirthLogisticRegression.Fit(x, outcome);

    [Benchmark]
    public ProportionalOddsFit ProportionalOdds() => ProportionalOddsRegression.Fit(x.SelectColumns([1, 2, 3, 4, 5]), grades, Grades, clusters, Sums);

    [Benchmark]
    public ConditionalLogisticFit ConditionalLogisticPairs() => ConditionalLogisticRegression.Fit(x.SelectColumns([1, 2, 3, 4, 5]), outcome, clusters);
}
