namespace RotationStudy.Statistics.Survival;

/// <summary>Robust covariance of an inverse-probability-weighted fit, with the part that comes from estimating the weights.</summary>
internal static class FineGrayCovariance
{
    internal static Coefficients Robust(FineGrayLikelihood fit, double[] beta, SymmetricMatrix bread, Clusters clusters, FineGrayOptions options, string kind)
    {
        double[] influence = FineGrayResiduals.Influence(fit, options.Ties);
        if (options.ClusterVariance == CoxClusterVariance.Sandwich)
            return new Coefficients(beta, CoxClusterCovariance.Sandwich(influence, bread, fit.Sets.Row, clusters), $"{kind}, weights estimated");
        double[] scores = CoxClusterCovariance.SumByCluster(influence, bread.Size, fit.Sets.Row, clusters);
        double[] shares = FineGrayClusterInformation.Shares(fit, clusters);
        return CoxClusterCovariance.LeaveOneOut(beta, fit.Information, shares, scores, bread.Names, $"{kind}, weights estimated, leave-one-out corrected");
    }
}
