namespace RotationStudy.Statistics.Survival;

/// <summary>What clusters must satisfy before an error is summed over them.</summary>
internal static class ClusterRules
{
    /// <summary>Clusters, where given, must have the table's rows and number at least two.</summary>
    internal static void Require(Clusters? clusters, int rows)
    {
        if (clusters is null)
            return;
        Statistics.Require.SameLength(clusters.Rows, rows, "clusters");
        if (clusters.Count < 2)
            throw new TooFewDataError("all rows belong to one cluster", "A cluster-robust variance needs many clusters.");
    }
}
