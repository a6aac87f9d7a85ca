namespace RotationStudy.Statistics.Survival;

/// <summary>Infinitesimal-jackknife variance of a product-limit curve for rows that are dependent within clusters.</summary>
/// <remarks>
/// The derivative of log S(t) with respect to row i's weight is minus its event's 1/(Y - d) plus C(t) - C(entry) while at risk,
/// C(t) the sum of d / (Y (Y - d)). A cluster's derivative is therefore a constant, which changes only when one of its rows
/// enters or leaves, minus its rows at risk times C(t): the form that <see cref="ClusterInfluence"/> keeps.
/// </remarks>
internal static class ClusteredProductLimit
{
    /// <summary>Variance of log S at each moment of a group, latest first; zero once the curve has reached zero.</summary>
    internal static double[] RelativeVariances(RiskSets sets, int group, Clusters clusters)
    {
        int start = sets.MomentStart[group];
        int last = sets.MomentStart[group + 1] - 2;
        double[] variances = new double[last + 1 - start];
        ClusterInfluence influence = new(clusters.Count, 2);
        double c = 0;
        int next = sets.StratumStart[group + 1];
        for (int m = last; m >= start && sets.AtRisk(m) > sets.EventCount[m]; m--)
        {
            while (next > sets.RemovedEnd[m])
                Change(sets.EntryOrder[--next], c, 1);
            double atRisk = sets.AtRisk(m);
            double left = atRisk - sets.EventCount[m];
            c += sets.EventCount[m] / (atRisk * left);
            for (int q = sets.LeavingStart(group, m); q < sets.AtRiskEnd[m]; q++)
                Change(q, (sets.IsEvent[q] ? 1 / left : 0) - c, -1);
            variances[m - start] = influence.Variance([1, -c]);
        }
        return variances;

        void Change(int position, double constant, int atRisk)
        {
            if (sets.FirstMoment[position] == sets.PastMoment[position])
                return; // Came and went between two events: never at risk at one.
            int cluster = clusters.ClusterOfRow[sets.Row[position]];
            influence.Add(cluster, 0, constant);
            influence.Add(cluster, 1, atRisk);
        }
    }
}
