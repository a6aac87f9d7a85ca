namespace RotationStudy.Statistics.Survival;

/// <summary>Do groups differ in the cumulative incidence of a cause when other causes compete? Gray's test.</summary>
/// <remarks>
/// Compares subdistribution hazards: at each event of the cause, d events are set against d R_g / R in group g, where
/// R_g = Y_g (1 - F_g(t-)) / S_g(t-) estimates how many would be at risk if those lost to other causes stayed. The
/// differences, weighted by (1 - F_0(t-))^rho, are summed; F_0 is the pooled estimate. Chi-square on groups minus 1.
/// <para>Variance: the delta method under equal incidences (Gray 1988, section 3), F_0 standing for all groups in the part of
/// the cause; with clusters the sum over clusters of squared influences, for rows dependent within clusters. The log-rank
/// test of cause-specific hazards asks another question; both belong into a report.</para>
/// <para>Where libraries differ: in the variance F_0 after the events of a time and S_g after them are taken in the terms that look
/// ahead, the limits before it in the rest, as the reference library does.</para>
/// <para>Edges: no event of the cause, or fewer than two groups at risk at its events, is TooFewDataError; late entry is allowed.</para>
/// <para><b>Sources</b>: Gray RJ, Ann Stat 1988;16:1141-1154. Clusters: Chen BE, Kramer JL, Greene MH and Rosenberg PS, Biostatistics 2008;9:207-218
/// (idea; recalled, not re-read).</para>
/// <para><b>Checked against</b>: Survival/melanoma, Peers/tight_300; with one cause
/// against the robust log-rank test.</para>
/// </remarks>
public static class GrayTest
{
    /// <summary>Tests that the cumulative incidence of a cause is the same in all groups.</summary>
    /// <param name="times">Follow-up with causes, n rows.</param>
    /// <param name="cause">Cause, from 1.</param>
    /// <param name="group">Name of each row's group, length n, at least two names.</param>
    /// <param name="clusters">Rows that may be dependent: asks for the cluster-robust version. Null: independent rows.</param>
    /// <param name="rho">Power of 1 - F_0(t-) in the weights, zero or more.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, no such cause, or a negative power.</exception>
    /// <exception cref="TooFewDataError">No event of the cause, fewer than two groups at risk, or a single cluster.</exception>
    public static TestResult Test(CompetingTimes times, int cause, IReadOnlyList<string> group, Clusters? clusters = null, double rho = 0)
    {
        CompetingTimes.RequireCause(cause);
        Require.SameLength(group.Count, times.Rows, "group");
        if (!(rho >= 0))
            throw new InvalidInputError($"the power of the weights is {rho}", "Give a power of zero or more.");
        ClusterRules.Require(clusters, times.Rows);
        if (times.Cause.IndexOf(cause) < 0)
            throw new TooFewDataError($"no row ends with cause {cause}", "Groups without events of the cause cannot be compared.");
        GrayTestSums sums = new(times, cause, Clusters.From(group), rho, clustered: clusters is not null);
        double[] variance = clusters is null ? sums.Variance() : sums.Robust(clusters);
        return GroupDifferences.ChiSquare(clusters is null ? "Gray" : "Gray, cluster-robust", sums.Difference, sums.Expected, variance, [.. group.Distinct()]);
    }
}
