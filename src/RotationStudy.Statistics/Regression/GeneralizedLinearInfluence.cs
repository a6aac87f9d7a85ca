namespace RotationStudy.Statistics.Regression;

/// <summary>Which cluster moves which coefficient of a logistic, Poisson or negative binomial model how far when it is left out.</summary>
/// <remarks>
/// One step of the iteration from the full fit, with working weights held: b - b(without g) is about (X'WX)^-1 X_g' (I - H_gg)^-1 r_g, as
/// <see cref="Influence"/> gives it exactly for linear regression. Right to second order; a cluster that decides whether the outcome is separated moves
/// the refit farther than one step shows. For the negative binomial the dispersion is held too. Sources: Pregibon D. Ann Stat 1981;9:705-724; by cluster Preisser JS,
/// Qaqish BF. Biometrika 1996;83:551-562. Checked against refits.
/// </remarks>
public static class GeneralizedLinearInfluence
{
    /// <summary>Influence of each cluster.</summary>
    /// <exception cref="InvalidInputError">The clusters are not of the fit's rows.</exception>
    public static Influence ByCluster(GeneralizedLinearFit fit, Clusters clusters)
        => Influence.Of(fit.Working, clusters, new Coefficients(fit.Working.Values, fit.ModelBasedCovariance, "model-based, independent rows"), 1);
}
