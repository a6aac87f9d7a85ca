namespace RotationStudy.Statistics.Regression;

/// <summary>How the variance of coefficients is reached when rows of a cluster may be dependent.</summary>
public enum ClusterVariance
{
    /// <summary>
    /// The plain sandwich of cluster sums, no correction (Liang and Zeger 1986). Too small with few clusters. Normal reference.
    /// </summary>
    CR0,

    /// <summary>
    /// CR0 times G/(G-1) times (n-1)/(n-k), with G clusters, n rows of positive weight and k coefficients: what most
    /// programs for linear models mean by cluster-robust. Reference t on G-1 degrees of freedom.
    /// </summary>
    CR1,

    /// <summary>
    /// CR0 times G/(G-1) alone, the form usual for generalised linear models. Some libraries call this one CR1.
    /// Reference t on G-1 degrees of freedom.
    /// </summary>
    CR1ClustersOnly,

    /// <summary>
    /// Bias-reduced: residuals are adjusted so that the estimate is unbiased under the working model, with Satterthwaite
    /// degrees of freedom per coefficient (Bell and McCaffrey 2002; Pustejovsky and Tipton 2018). The default.
    /// </summary>
    CR2,

    /// <summary>
    /// Residuals divided by one minus the cluster's leverage: close to the jackknife over clusters, too large rather than too
    /// small; no factor (G-1)/G is applied. Reference t on G-1 degrees of freedom.
    /// </summary>
    CR3,
}
