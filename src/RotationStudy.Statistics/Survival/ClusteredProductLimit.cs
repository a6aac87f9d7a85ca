namespace RotationStudy.Statistics.Survival;

/// <summary>Infinitesimal-jackknife variance of a product-limit curve for rows that are dependent within clusters.</summary>
/// <remarks>
/// The derivative of log S(t) with respect to row i's weight is minus its event's 1/(Y - d) plus C(t) - C(entry) while at risk,
/// C(t) the sum of d / (Y (Y - d)). A cluster's derivative is therefore linear in C: k C(t) - a, k its rows at risk and a a
/// constant that changes only when one of its rows enters or leaves. Sums of a^2, ak and k^2 over clusters, kept up to
/// date at those changes, give the variance at every time with O(1) work per change.
/// </remarks>
internal static class ClusteredProductLimit
{
    /// <summary>Variance of log S at each moment of a group, latest first; zero once the curve has reached zero.</summary>
    internal static double[] RelativeVariances(RiskSets sets, int group, Clusters clusters)
    {
        int start = sets.MomentStart[group];
        int last = sets.MomentStart[group + 1] - 2;
        double[] variances = new double[last + 1 - start];
        double[] constant = new double[clusters.Count];
        int[] atRiskOf = new int[clusters.Count];
        double aa = 0, ak = 0, kk = 0, c = 0;
        int next = sets.StratumStart[group + 1];
        for (int m = last; m >= start && sets.AtRisk(m) > sets.EventCount[m]; m--)
        {
            while (next > sets.RemovedEnd[m])
                Change(sets.EntryOrder[--next], c, 1);
            double atRisk = sets.AtRisk(m);
            double left = atRisk - sets.EventCount[m];
            c += sets.EventCount[m] / (atRisk * left);
            int leaving = m == start ? sets.StratumStart[group] : sets.AtRiskEnd[m - 1];
            for (int q = leaving; q < sets.AtRiskEnd[m]; q++)
                Change(q, (sets.IsEvent[q] ? 1 / left : 0) - c, -1);
            variances[m - start] = Math.Max(0, aa - (2 * c * ak) + (c * c * kk));
        }
        return variances;

        void Change(int position, double toConstant, int toAtRisk)
        {
            if (sets.FirstMoment[position] == sets.PastMoment[position])
                return; // Came and went between two events: never at risk at one.
            int g = clusters.ClusterOfRow[sets.Row[position]];
            double a = constant[g];
            double k = atRiskOf[g];
            double newA = constant[g] = a + toConstant;
            double newK = atRiskOf[g] += toAtRisk;
            aa += (newA * newA) - (a * a);
            ak += (newA * newK) - (a * k);
            kk += (newK * newK) - (k * k);
        }
    }
}
