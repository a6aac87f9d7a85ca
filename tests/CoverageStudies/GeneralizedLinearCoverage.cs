using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.CoverageStudies;

/// <summary>Binary, count and ordinal regressions with cluster-robust variance on two dependent sides per person.</summary>
internal static class GeneralizedLinearCoverage
{
    private const double OfMeasure = 0.4;
    private const double OfTrait = 0.5;
    private const double Correlation = 0.5;
    private const double FrailtyVariance = 1;
    private static readonly int[] Sizes = [30, 50, 200, 1000];
    private static readonly double[] Thresholds = [-1, 0, 1, 2.5];
    private static readonly string[] Grades = ["0", "1", "2", "3", "4"];

    internal static IReadOnlyList<CoverageStudy> Logistic()
        => Clustered("logistic, 30% events", (data, options, term) => Logit(data, -1.2, options, term))
            .Concat(Clustered("logistic, 10% events", (data, options, term) => Logit(data, -2.6, options, term)))
            .ToList();

    internal static IReadOnlyList<CoverageStudy> RiskRatios()
        => [.. Clustered("modified Poisson, 10% events", (data, options, term) =>
        {
            // Risks stay under 1: the log risk is cut at log 0.95, which fewer than 1 row in 10,000 reaches.
            double[] risk = [.. data.Predictor(-2.7, OfMeasure, OfTrait).Select(eta => Math.Min(0.95, Math.Exp(eta)))];
            return ModifiedPoissonRegression.Fit(data.X, data.Binary(risk, Correlation), data.Persons, options).Coefficients.Estimate(term);
        })];

    internal static IReadOnlyList<CoverageStudy> Counts()
        => Clustered("Poisson rates, mean 0.5, frailty variance 1", (data, options, term) => PoissonRegression.Fit(data.X, DrawCounts(data), [], data.Persons, options).Coefficients.Estimate(term))
            .Concat(Clustered("negative binomial rates, mean 0.5, frailty variance 1", (data, options, term) => NegativeBinomialRegression.Fit(data.X, DrawCounts(data), [], data.Persons, options).Regression.Coefficients.Estimate(term)))
            .ToList();

    internal static IReadOnlyList<CoverageStudy> Ordinal()
        => [.. Sizes.Where(n => n >= 50).SelectMany(n => Terms.Select(t => new CoverageStudy($"proportional odds, CR1, {t.Name}", n, t.Truth, random =>
        {
            TwoSidedData data = new(random, n);
            int[] grade = data.Ordered(data.Predictor(0, OfMeasure, OfTrait), Thresholds, Correlation);
            return ProportionalOddsRegression.Fit(data.X.SelectColumns([1, 2]), grade, Grades, data.Persons).Coefficients.Estimate(t.Name);
        })))];

    /// <summary>Firth on independent persons (one side each), where profile intervals claim their level.</summary>
    internal static IReadOnlyList<CoverageStudy> Firth()
    {
        List<CoverageStudy> studies = [];
        foreach (int n in new[] { 30, 50, 200 })
        {
            foreach ((string name, double truth) in Terms)
            {
                studies.Add(new($"Firth profile, independent rows, 12% events, {name}", n, truth, random => OneSide(random, n, (x, y) => FirthLogisticRegression.Fit(x, y).Profile[x.IndexOf(name)])));
                studies.Add(new($"maximum likelihood, independent rows, 12% events, {name}", n, truth, random => OneSide(random, n, (x, y) => LogisticRegression.Fit(x, y).Coefficients.Estimate(name))));
            }
        }
        return studies;
    }

    private static (string Name, double Truth)[] Terms => [("measure", OfMeasure), ("trait", OfTrait)];

    private static IEnumerable<CoverageStudy> Clustered(string name, Func<TwoSidedData, GeneralizedLinearOptions, string, Estimate> estimate)
    {
        foreach (int persons in Sizes)
        {
            foreach (ClusterVariance variance in persons <= 200 ? new[] { ClusterVariance.CR1, ClusterVariance.CR2 } : [ClusterVariance.CR1])
            {
                foreach ((string term, double truth) in Terms)
                    yield return new CoverageStudy($"{name}, {variance}, {term}", persons, truth, random => estimate(new TwoSidedData(random, persons), new() { Variance = variance }, term));
            }
        }
    }

    private static Estimate Logit(TwoSidedData data, double intercept, GeneralizedLinearOptions options, string term)
    {
        double[] risk = [.. data.Predictor(intercept, OfMeasure, OfTrait).Select(eta => 1 / (1 + Math.Exp(-eta)))];
        return LogisticRegression.Fit(data.X, data.Binary(risk, Correlation), data.Persons, options).Coefficients.Estimate(term);
    }

    private static double[] DrawCounts(TwoSidedData data)
        => data.Counts([.. data.Predictor(Math.Log(0.35), OfMeasure, OfTrait).Select(eta => Math.Exp(eta))], FrailtyVariance);

    private static Estimate OneSide(Random random, int persons, Func<DesignMatrix, double[], Estimate> estimate)
    {
        TwoSidedData data = new(random, persons);
        double[] risk = [.. data.Predictor(-2.4, OfMeasure, OfTrait).Select(eta => 1 / (1 + Math.Exp(-eta)))];
        double[] outcome = data.Binary(risk, 0);
        int[] first = [.. Enumerable.Range(0, persons).Select(g => 2 * g)];
        return estimate(data.X.SelectRows(first), [.. first.Select(i => outcome[i])]);
    }
}
