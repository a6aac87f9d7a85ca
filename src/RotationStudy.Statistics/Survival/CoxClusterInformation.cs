namespace RotationStudy.Statistics.Survival;

/// <summary>Each cluster's share in the information of a proportional-hazards fit, in linear time.</summary>
/// <remarks>
/// Row i contributes exp(eta) times the integral of (x - a)(x - a)' over the hazard it meets, which opens into x x' A - x B' - B x' + C
/// with A, B, C the integrals of 1, a and a a', differences of cumulative sums over moments. The shares add up to the information.
/// </remarks>
internal static class CoxClusterInformation
{
    /// <summary>Shares, cluster after cluster, p squared values each.</summary>
    internal static double[] Shares(CoxPartialLikelihood fit, Clusters clusters)
    {
        RiskSets sets = fit.Sets;
        int p = fit.Columns.Names.Count;
        int size = p + (p * p);
        double[] cumulative = new double[sets.Moments * size];
        double[] tied = new double[sets.Moments * size];
        Accumulate(fit, p, cumulative, tied);
        double[] shares = new double[clusters.Count * p * p];
        double[] x = new double[p];
        double[] met = new double[size];
        for (int q = 0; q < sets.Rows; q++)
        {
            int first = sets.FirstMoment[q];
            for (int j = 0; j < p; j++)
                x[j] = fit.Columns.Design[q, j];
            for (int j = 0; j < size; j++)
            {
                met[j] = cumulative[(first * size) + j] - cumulative[(sets.PastMoment[q] * size) + j];
                if (sets.IsEvent[q])
                    met[j] -= tied[(first * size) + j];
            }
            int at = clusters.ClusterOfRow[sets.Row[q]] * p * p;
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < p; j++)
                    shares[at + (i * p) + j] += fit.Risk[q] * ((x[i] * x[j] * fit.HazardMet[q]) - (x[i] * met[j]) - (met[i] * x[j]) + met[p + (i * p) + j]);
            }
        }
        return shares;
    }

    private static void Accumulate(CoxPartialLikelihood fit, int p, double[] cumulative, double[] tied)
    {
        RiskSets sets = fit.Sets;
        int size = p + (p * p);
        double[] running = new double[size];
        double[] term = new double[size];
        for (int s = 0; s < sets.Strata; s++)
        {
            Array.Clear(running);
            for (int m = sets.MomentStart[s + 1] - 1; m >= sets.MomentStart[s]; m--)
            {
                for (int k = 0; k < sets.EventCount[m] && fit.EventWeight[m] > 0; k++)
                {
                    double share = fit.Share(m, k);
                    double step = fit.EventWeight[m] / (fit.S0[m] - (share * fit.D0[m]));
                    fit.RiskSetMean(m, k, term.AsSpan(0, p));
                    for (int i = 0; i < p; i++)
                    {
                        for (int j = 0; j < p; j++)
                            term[p + (i * p) + j] = term[i] * term[j];
                    }
                    for (int j = 0; j < size; j++)
                    {
                        running[j] += step * term[j];
                        tied[(m * size) + j] += share * step * term[j];
                    }
                }
                running.CopyTo(cumulative, m * size);
            }
        }
    }
}
