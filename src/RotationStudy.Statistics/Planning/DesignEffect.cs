namespace RotationStudy.Statistics.Planning;

/// <summary>By what factor the variance of an estimate grows because rows of one person, or of one site, resemble each other.</summary>
/// <remarks>
/// With m rows per cluster, outcome correlation r and exposure correlation x within clusters: 1 + (m - 1) r x for a
/// regression slope. An exposure of the person (x = 1) gives Kish's 1 + (m - 1) r; an exposure that varies within persons as
/// much as between them (x = 0) costs nothing. Clusters of unequal size with coefficient of variation c replace m - 1 by
/// (1 + c^2) m - 1.
/// <para><b>Sources</b>: Kish L, Survey Sampling, 1965, ch. 5; Scott AJ, Holt D. J Am Stat Assoc 1982;77:848-854 (slopes);
/// Eldridge SM, Ashby D, Kerry S. Int J Epidemiol 2006;35:1292-1300 (unequal sizes). Recalled, not re-read; formulas checked by
/// the exact variance of a slope in balanced clusters.</para>
/// </remarks>
public static class DesignEffect
{
    /// <summary>The factor.</summary>
    /// <param name="rowsPerCluster">Mean number of rows per cluster, 1 or more.</param>
    /// <param name="outcomeCorrelation">Correlation of outcomes within a cluster, from 0 to 1.</param>
    /// <param name="exposureCorrelation">Correlation of the exposure within a cluster, from 0 to 1; 1 for an exposure of the cluster.</param>
    /// <param name="sizeVariation">Coefficient of variation of cluster sizes, 0 for equal ones.</param>
    /// <exception cref="InvalidInputError">A value outside its range.</exception>
    public static double OfSlope(double rowsPerCluster, double outcomeCorrelation, double exposureCorrelation = 1, double sizeVariation = 0)
    {
        PlanningInput.AtLeast(rowsPerCluster, 1, "rows per cluster");
        PlanningInput.Correlation(outcomeCorrelation, "outcome correlation");
        PlanningInput.Correlation(exposureCorrelation, "exposure correlation");
        PlanningInput.AtLeast(sizeVariation, 0, "variation of cluster sizes");
        return 1 + ((((1 + (sizeVariation * sizeVariation)) * rowsPerCluster) - 1) * outcomeCorrelation * exposureCorrelation);
    }
}
