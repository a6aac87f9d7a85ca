using RotationStudy.Statistics;
using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Imputation;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Benchmarks;

/// <summary>Agreement, area under the curve, bootstrap and imputation of the comparison; the last two use all cores.</summary>
internal static class AgreementAndResamplingPeerFits
{
    private static readonly string[] ImputationColumns = ["any", "av", "tfa", "lax", "quad", "pain", "out", "age", "female"];
    private static readonly string[] Covariates = ["av", "tfa", "lax", "age", "female"];

    internal static IReadOnlyList<PeerFit> All { get; } =
    [
        new("icc_3raters", null, cohort =>
        {
            double[][] raters = [.. Enumerable.Range(0, 3).Select(j => cohort.Raters.Select(r => r[j]).ToArray())];
            return () => IntraclassCorrelation.All(RatingTable.From(raters));
        }),
        new("auc_delong", null, cohort =>
        {
            (DesignMatrix x, Clusters _, double[] _) = GeneralizedLinearPeerFits.Design(cohort.Knees);
            bool[] any = [.. cohort.Knees["any"].Select(v => v == 1)];
            IReadOnlyList<double> risk = LogisticRegression.Fit(x, cohort.Knees["any"]).FittedMeans;
            return () => AreaUnderCurve.Estimate(any, risk);
        }),
        new("boot20_logit", null, cohort => Bootstrap(cohort.Knees, 20, -1)),
        new("boot2000_logit", null, cohort => Bootstrap(cohort.Knees, 2000, -1)),
        new("boot2000_logit, one thread", null, cohort => Bootstrap(cohort.Knees, 2000, 1)),
        new("mice20_logit", null, cohort => Imputation(cohort.AllKnees, -1)),
        new("mice20_logit, one thread", null, cohort => Imputation(cohort.AllKnees, 1)),
    ];

    /// <summary>Whole persons resampled; the fit takes how often a person was drawn as weights of the person's rows.</summary>
    private static Action Bootstrap(PeerTable knees, int replicates, int threads)
    {
        (DesignMatrix x, Clusters persons, double[] _) = GeneralizedLinearPeerFits.Design(knees);
        double[] any = knees["any"];
        BootstrapOptions options = new() { Replicates = replicates, Seed = 1, Threads = threads };
        return () => PersonBootstrap.Run(x.Names, persons, resample =>
        {
            double[] weights = new double[any.Length];
            ReadOnlySpan<int> person = persons.ClusterOfRow;
            for (int i = 0; i < weights.Length; i++)
                weights[i] = resample.TimesDrawn[person[i]];
            return LogisticRegression.Fit(x, any, weights: weights).Coefficients.Values;
        }, options);
    }

    private static Action Imputation(PeerTable knees, int threads)
    {
        ImputedColumn[] columns = [.. ImputationColumns.Select(n => new ImputedColumn { Name = n, Values = [.. knees[n].Select(v => double.IsNaN(v) ? (double?)null : v)] })];
        ImputationOptions options = new() { Imputations = 20, Iterations = 5, Seed = 1, Threads = threads };
        return () => ChainedEquations.Run(columns, options).Pool(
            column => LogisticRegression.Fit(DesignMatrix.WithIntercept([.. Covariates.Select(c => (c, column(c)))]), [.. column("any")]).Coefficients,
            knees.Rows - Covariates.Length - 1);
    }
}
