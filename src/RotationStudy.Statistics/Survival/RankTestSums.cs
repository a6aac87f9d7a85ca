namespace RotationStudy.Statistics.Survival;

/// <summary>Observed and expected events per group with the two variances of their differences.</summary>
internal sealed class RankTestSums
{
    private readonly RiskSets sets;
    private readonly Clusters groups;
    private readonly int[] atRisk;
    private readonly double[] weight;
    private readonly int k;

    internal RankTestSums(RiskSets sets, Clusters groups, LogRankOptions options)
    {
        this.sets = sets;
        this.groups = groups;
        k = groups.Count;
        atRisk = new int[sets.Moments * k];
        weight = new double[sets.Moments];
        Observed = new double[k];
        Expected = new double[k];
        for (int s = 0; s < sets.Strata; s++)
        {
            CountAtRisk(s);
            Weigh(s, options);
            Compare(s);
        }
    }

    internal double[] Observed { get; }

    internal double[] Expected { get; }

    private int GroupAt(int position) => groups.ClusterOfRow[sets.Row[position]];

    private void CountAtRisk(int stratum)
    {
        int[] count = new int[k];
        int q = sets.StratumStart[stratum];
        int e = q;
        for (int m = sets.MomentStart[stratum]; m < sets.MomentStart[stratum + 1]; m++)
        {
            for (; q < sets.AtRiskEnd[m]; q++)
                count[GroupAt(q)]++;
            for (; e < sets.RemovedEnd[m]; e++)
                count[GroupAt(sets.EntryOrder[e])]--;
            count.CopyTo(atRisk, m * k);
        }
    }

    private void Weigh(int stratum, LogRankOptions options)
    {
        double survival = 1;
        double peto = 1;
        for (int m = sets.MomentStart[stratum + 1] - 2; m >= sets.MomentStart[stratum]; m--)
        {
            double y = sets.AtRisk(m);
            double d = sets.EventCount[m];
            peto *= 1 - (d / (y + 1));
            weight[m] = options.Weight switch
            {
                RankWeight.LogRank => 1,
                RankWeight.Gehan => y,
                RankWeight.PetoPeto => peto,
                _ => Math.Pow(survival, options.Rho) * Math.Pow(1 - survival, options.Gamma),
            };
            survival *= (y - d) / y;
        }
    }

    private void Compare(int stratum)
    {
        for (int m = sets.MomentStart[stratum]; m < sets.MomentStart[stratum + 1] - 1; m++)
        {
            for (int q = sets.AtRiskEnd[m] - sets.EventCount[m]; q < sets.AtRiskEnd[m]; q++)
                Observed[GroupAt(q)] += weight[m];
            double rate = weight[m] * sets.EventCount[m] / sets.AtRisk(m);
            for (int g = 0; g < k; g++)
                Expected[g] += rate * atRisk[(m * k) + g];
        }
    }

    /// <summary>Variance of observed minus expected for independent rows, k by k.</summary>
    internal double[] Hypergeometric()
    {
        double[] variance = new double[k * k];
        for (int m = 0; m < sets.Moments; m++)
        {
            double y = sets.AtRisk(m);
            double d = sets.EventCount[m];
            if (d == 0 || y < 2)
                continue;
            double factor = weight[m] * weight[m] * d * (y - d) / (y - 1);
            for (int g = 0; g < k; g++)
            {
                double share = atRisk[(m * k) + g] / y;
                for (int h = 0; h < k; h++)
                    variance[(g * k) + h] += factor * share * ((g == h ? 1 : 0) - (atRisk[(m * k) + h] / y));
            }
        }
        return variance;
    }

    /// <summary>Sum over clusters of squared influence on observed minus expected, k by k.</summary>
    internal double[] Robust(Clusters clusters)
    {
        double[] hazard = new double[sets.Moments];
        double[] share = new double[sets.Moments * k];
        Accumulate(hazard, share);
        double[] influence = new double[clusters.Count * k];
        for (int q = 0; q < sets.Rows; q++)
        {
            int first = sets.FirstMoment[q];
            int past = sets.PastMoment[q];
            Span<double> u = influence.AsSpan(clusters.ClusterOfRow[sets.Row[q]] * k, k);
            int own = GroupAt(q);
            u[own] -= hazard[first] - hazard[past];
            for (int g = 0; g < k; g++)
                u[g] += share[(first * k) + g] - share[(past * k) + g];
            if (!sets.IsEvent[q])
                continue;
            u[own] += weight[first];
            for (int g = 0; g < k; g++)
                u[g] -= weight[first] * atRisk[(first * k) + g] / sets.AtRisk(first);
        }
        return GroupDifferences.SumOfSquares(influence, k);
    }

    // Cumulative weighted hazard, and the same times the share of each group at risk.
    private void Accumulate(double[] hazard, double[] share)
    {
        for (int s = 0; s < sets.Strata; s++)
        {
            int closing = sets.MomentStart[s + 1] - 1;
            for (int m = closing - 1; m >= sets.MomentStart[s]; m--)
            {
                double step = weight[m] * sets.EventCount[m] / sets.AtRisk(m);
                hazard[m] = hazard[m + 1] + step;
                for (int g = 0; g < k; g++)
                    share[(m * k) + g] = share[((m + 1) * k) + g] + (step * atRisk[(m * k) + g] / sets.AtRisk(m));
            }
        }
    }
}
