using RotationStudy.Statistics;
using RotationStudy.Statistics.Imputation;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.CoverageStudies;

/// <summary>Pooled regressions after imputation of a covariate that is missing at random in about 30% of the rows.</summary>
/// <remarks>
/// Outcome = 0.5 exposure + 0.5 other + error; exposure and other correlate 0.5. The exposure is missing more often where outcome and other
/// are large, so complete rows are a biased sample. One row per person; for the random intercept two, with person effects in exposure and outcome.
/// </remarks>
internal static class ImputationStudies
{
    private const double Slope = 0.5;

    internal static IReadOnlyList<CoverageStudy> Studies()
    {
        List<CoverageStudy> studies = [];
        foreach (int persons in new[] { 50, 200 })
        {
            studies.Add(new("complete rows only (biased by design)", persons, Slope, r => Single(r, persons, null)));
            studies.Add(new("predictive mean matching, m = 10", persons, Slope, r => Single(r, persons, ImputationModel.PredictiveMeanMatching)));
            studies.Add(new("normal, m = 10", persons, Slope, r => Single(r, persons, ImputationModel.Normal)));
            studies.Add(new("logistic (exposure in two classes), m = 10", persons, Slope, r => Single(r, persons, ImputationModel.Logistic)));
            studies.Add(new("ordinal (exposure in four classes), m = 10", persons, Slope, r => Single(r, persons, ImputationModel.Ordinal)));
            studies.Add(new("random intercept, two knees, CR2, m = 10", persons, Slope, r => TwoKnees(r, persons)));
        }
        return studies;
    }

    private static Estimate Single(Random random, int persons, ImputationModel? model)
    {
        RandomStream stream = new((ulong)random.NextInt64(), "imputation study");
        double[] other = new double[persons];
        double[] outcome = new double[persons];
        double?[] exposure = new double?[persons];
        for (int i = 0; i < persons; i++)
        {
            other[i] = stream.Normal();
            double latent = (0.5 * other[i]) + (Math.Sqrt(0.75) * stream.Normal());
            double value = model switch
            {
                ImputationModel.Logistic => latent > 0 ? 1 : 0,
                ImputationModel.Ordinal => latent < -1 ? 0 : latent < 0 ? 1 : latent < 1 ? 2 : 3,
                _ => latent,
            };
            outcome[i] = (Slope * value) + (0.5 * other[i]) + stream.Normal();
            exposure[i] = Lost(stream, outcome[i], other[i]) ? null : value;
        }
        if (model is null)
        {
            int[] rows = [.. Enumerable.Range(0, persons).Where(i => exposure[i] is not null)];
            DesignMatrix x = DesignMatrix.WithIntercept(("exposure", [.. rows.Select(i => exposure[i]!.Value)]), ("other", [.. rows.Select(i => other[i])]));
            return LinearRegression.Fit(x, [.. rows.Select(i => outcome[i])]).ModelBased.Estimate("exposure");
        }
        ImputedTables tables = ChainedEquations.Run(Columns(exposure, other, outcome, model.Value), Options(stream));
        return tables.Pool(column => LinearRegression.Fit(Design(column), column("outcome")).ModelBased, persons - 3).Coefficients.Estimate("exposure");
    }

    private static Estimate TwoKnees(Random random, int persons)
    {
        RandomStream stream = new((ulong)random.NextInt64(), "imputation study");
        int rows = 2 * persons;
        double[] other = new double[rows];
        double[] outcome = new double[rows];
        double?[] exposure = new double?[rows];
        for (int i = 0; i < rows; i += 2)
        {
            (double u, double v) = (stream.Normal(), stream.Normal());
            for (int k = i; k < i + 2; k++)
            {
                other[k] = stream.Normal();
                double value = (0.5 * other[k]) + (Math.Sqrt(0.5) * u) + (0.5 * stream.Normal());
                outcome[k] = (Slope * value) + (0.5 * other[k]) + (Math.Sqrt(0.5) * (v + stream.Normal()));
                exposure[k] = Lost(stream, outcome[k], other[k]) ? null : value;
            }
        }
        Clusters clusters = Clusters.From([.. Enumerable.Range(0, rows).Select(i => i / 2)]);
        ImputedTables tables = ChainedEquations.Run(Columns(exposure, other, outcome, ImputationModel.TwoLevelNormal), Options(stream), clusters);
        return tables.Pool(column => LinearRegression.Fit(Design(column), column("outcome")).ClusterRobust(clusters), persons - 1).Coefficients.Estimate("exposure");
    }

    private static bool Lost(RandomStream stream, double outcome, double other) => stream.Bernoulli(1 / (1 + Math.Exp(1.2 - outcome - (0.5 * other))));

    private static ImputedColumn[] Columns(double?[] exposure, double[] other, double[] outcome, ImputationModel model) =>
    [
        new() { Name = "exposure", Values = exposure, Model = model },
        new() { Name = "other", Values = [.. other.Select(v => (double?)v)] },
        new() { Name = "outcome", Values = [.. outcome.Select(v => (double?)v)] },
    ];

    // One incomplete column: one pass is enough; the random intercept takes more for its sampler.
    private static ImputationOptions Options(RandomStream stream) => new() { Imputations = 10, Iterations = 3, Seed = stream.Bits(), Threads = 1 };

    private static DesignMatrix Design(Func<string, IReadOnlyList<double>> column) => DesignMatrix.WithIntercept(("exposure", column("exposure")), ("other", column("other")));
}
