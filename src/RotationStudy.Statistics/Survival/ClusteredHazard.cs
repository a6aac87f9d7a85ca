namespace RotationStudy.Statistics.Survival;

/// <summary>Infinitesimal-jackknife variance of a predicted cumulative hazard over clusters.</summary>
/// <remarks>
/// A cluster moves the baseline through its events and its risk, integral of dM / S0, and the coefficients through its
/// dfbeta D: its influence is a constant, minus its summed risk at hand times C(t), minus q(t)'D, with C(t) the sum of
/// v / (S0 - f D0)^2 and q as in <see cref="CoxPrediction"/>. Tied events meet the part of C of their turns only.
/// </remarks>
internal static class ClusteredHazard
{
    /// <summary>Variance at each moment of the stratum, on the scale of the shifted baseline.</summary>
    internal static double[] Variance(CoxFit fit, CoxPartialLikelihood likelihood, double[] x, int stratum)
    {
        RiskSets sets = likelihood.Sets;
        Clusters clusters = fit.ClusterRows!;
        int p = x.Length;
        ClusterInfluence influence = new(clusters.Count, p + 2);
        AddDfbeta(fit, influence);
        double[] variance = new double[sets.Moments];
        double[] q = new double[p];
        double[] f = new double[p + 2];
        double c = 0;
        int next = sets.StratumStart[stratum + 1];
        for (int m = sets.MomentStart[stratum + 1] - 2; m >= sets.MomentStart[stratum]; m--)
        {
            while (next > sets.RemovedEnd[m])
                Change(sets.EntryOrder[--next], 1, 0);
            (double own, double step, double spared) = Turns(likelihood, m);
            c += step;
            for (int i = sets.LeavingStart(stratum, m); i < sets.AtRiskEnd[m]; i++)
                Change(i, -1, sets.IsEvent[i] ? (likelihood.Weight(i) * own) + (likelihood.Risk[i] * spared) : 0);
            CoxPrediction.AddMeanMinus(likelihood, m, x, q);
            (f[0], f[1]) = (1, -c);
            for (int j = 0; j < p; j++)
                f[j + 2] = -q[j];
            variance[m] = influence.Variance(f);
        }
        return variance;

        // While at risk: -risk (C(t) - C(entry)); afterwards the same with C at the exit, plus what its event adds.
        void Change(int position, int direction, double atEvent)
        {
            if (sets.FirstMoment[position] == sets.PastMoment[position])
                return;
            int cluster = clusters.ClusterOfRow[sets.Row[position]];
            influence.Add(cluster, 0, (direction * likelihood.Risk[position] * c) + atEvent);
            influence.Add(cluster, 1, direction * likelihood.Risk[position]);
        }
    }

    // Per unit of weight of an event; the step of C; the part of it that the tied events do not meet.
    private static (double Own, double Step, double Spared) Turns(CoxPartialLikelihood likelihood, int moment)
    {
        (double own, double step, double spared) = (0, 0, 0);
        int d = likelihood.Sets.EventCount[moment];
        for (int k = 0; k < d && likelihood.EventWeight[moment] > 0; k++)
        {
            double share = likelihood.Share(moment, k);
            double denominator = likelihood.S0[moment] - (share * likelihood.D0[moment]);
            double squared = likelihood.EventWeight[moment] / (denominator * denominator);
            own += 1 / (d * denominator);
            step += squared;
            spared += share * squared;
        }
        return (own, step, spared);
    }

    private static void AddDfbeta(CoxFit fit, ClusterInfluence influence)
    {
        DesignMatrix dfbeta = CoxResiduals.DfbetaByCluster(fit, fit.ClusterRows!);
        for (int g = 0; g < dfbeta.Rows; g++)
        {
            for (int j = 0; j < dfbeta.Columns; j++)
                influence.Add(g, j + 2, dfbeta[g, j]);
        }
    }
}
