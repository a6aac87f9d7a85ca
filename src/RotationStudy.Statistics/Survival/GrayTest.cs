using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>Do groups differ in the cumulative incidence of a cause when other causes compete? Gray's test.</summary>
/// <remarks>
/// Compares subdistribution hazards: at each event of the cause, d events are set against d R_g / R in group g, where
/// R_g = Y_g (1 - F_g(t-)) / S_g(t-) estimates how many would be at risk if those lost to other causes stayed. The
/// differences, weighted by (1 - F_0(t-))^rho, are summed; F_0 is the pooled estimate. Chi-square on groups minus 1.
/// <para>Variance: the delta method under equal incidences (Gray 1988, section 3), F_0 standing for all groups in the part of
/// the cause; with clusters the sum over clusters of squared influences, for rows dependent within clusters. The log-rank
/// test of cause-specific hazards asks another question; both belong into a report.</para>
/// <para>Where libraries differ: where F and S jump, left or right limits may be taken in the variance; statistics differ in the
/// third digit. Here F and S at a time include its events in the terms that look ahead of it.</para>
/// <para>Edges: no event of the cause, or fewer than two groups at risk at its events, is TooFewDataError; late entry is allowed.</para>
/// <para><b>Sources</b>: Gray RJ, Ann Stat 1988;16:1141-1154. Clusters: Chen BE, Kramer JL, Greene MH and Rosenberg PS, Biostatistics 2008;9:207-218
/// (idea; recalled, not re-read).</para>
/// <para><b>Checked against</b>: Survival/melanoma, Peers/tight_300 (to 5 in 1000, for the reason above); with one cause
/// against the robust log-rank test; size by simulation in docs/coverage.</para>
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
        if (clusters is not null)
        {
            Require.SameLength(clusters.Rows, times.Rows, "clusters");
            if (clusters.Count < 2)
                throw new TooFewDataError("all rows belong to one cluster", "A cluster-robust variance needs many clusters.");
        }
        if (times.Cause.IndexOf(cause) < 0)
            throw new TooFewDataError($"no row ends with cause {cause}", "Groups without events of the cause cannot be compared.");
        GrayTestSums sums = new(times, cause, Clusters.From(group), rho, clustered: clusters is not null);
        double[] variance = clusters is null ? sums.Variance() : sums.Robust(clusters);
        return QuadraticForm(sums, variance, [.. group.Distinct()], clusters is null ? "Gray" : "Gray, cluster-robust");
    }

    private static TestResult QuadraticForm(GrayTestSums sums, double[] variance, string[] names, string test)
    {
        int k = names.Length;
        List<int> kept = [];
        for (int g = 0; g < k; g++)
        {
            if (sums.Expected[g] > 0)
                kept.Add(g);
        }
        if (kept.Count < 2)
            throw new TooFewDataError("fewer than two groups were at risk when events of the cause happened", "Compare groups that were observed over the same time.");
        int df = kept.Count - 1;
        double[] z = new double[df];
        double[] v = new double[df * df];
        for (int i = 0; i < df; i++)
        {
            z[i] = sums.Difference[kept[i]];
            for (int j = 0; j < df; j++)
                v[(i * df) + j] = variance[(kept[i] * k) + kept[j]];
        }
        try
        {
            double statistic = CrossProduct.Dot(z, SmallCholesky.Factor(v, df, [.. kept.Select(g => names[g])]).Solve(z));
            return new TestResult(test, statistic, df, double.PositiveInfinity, ChiSquared.UpperTail(statistic, df));
        }
        catch (RankDeficientError)
        {
            throw new TooFewDataError("the groups were never mixed when events happened, or too few clusters carry information", "Compare groups that were at risk together; use more clusters than groups.");
        }
    }
}
