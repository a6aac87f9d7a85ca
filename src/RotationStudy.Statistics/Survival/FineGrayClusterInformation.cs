namespace RotationStudy.Statistics.Survival;

/// <summary>Each cluster's share in the information of a Fine-Gray fit, in linear time.</summary>
/// <remarks>
/// As <see cref="CoxClusterInformation"/>, with the weighted hazard that a lost row goes on meeting: integrals of a and a a' over dH up
/// to the exit, and over G(t-) dH / G(X-) beyond it. The shares add up to the information.
/// </remarks>
internal static class FineGrayClusterInformation
{
    /// <summary>Shares, cluster after cluster, p squared values each.</summary>
    internal static double[] Shares(FineGrayLikelihood fit, Clusters clusters)
    {
        RiskSets sets = fit.Sets;
        int p = fit.Columns.Names.Count;
        int size = p + (p * p);
        double[] before = new double[sets.Moments * size];
        double[] beyond = new double[sets.Moments * size];
        Accumulate(fit, p, before, beyond);
        double[] shares = new double[clusters.Count * p * p];
        double[] x = new double[p];
        double[] met = new double[size];
        for (int q = 0; q < sets.Rows; q++)
        {
            int first = sets.FirstMoment[q];
            before.AsSpan(first * size, size).CopyTo(met);
            if (fit.Lost[q] && first > 0)
            {
                for (int j = 0; j < size; j++)
                    met[j] += beyond[((first - 1) * size) + j] / fit.Censoring[q];
            }
            for (int j = 0; j < p; j++)
                x[j] = fit.Columns.Design[q, j];
            AddShare(shares.AsSpan(clusters.ClusterOfRow[sets.Row[q]] * p * p, p * p), x, met, fit.Risk[q], fit.HazardMet[q]);
        }
        return shares;
    }

    // Moments run from the latest to the earliest: "before" sums from the earliest up, "beyond" from the latest down.
    private static void Accumulate(FineGrayLikelihood fit, int p, double[] before, double[] beyond)
    {
        int size = p + (p * p);
        int closing = fit.Sets.Moments - 1;
        double[] term = new double[size];
        for (int m = closing - 1; m >= 0; m--)
        {
            Term(fit, m, p, term);
            for (int j = 0; j < size; j++)
                before[(m * size) + j] = before[((m + 1) * size) + j] + (fit.Hazard[m] * term[j]);
        }
        for (int m = 0; m < closing; m++)
        {
            Term(fit, m, p, term);
            for (int j = 0; j < size; j++)
                beyond[(m * size) + j] = (m > 0 ? beyond[((m - 1) * size) + j] : 0) + (fit.CensoringAt[m] * fit.Hazard[m] * term[j]);
        }
    }

    private static void Term(FineGrayLikelihood fit, int m, int p, double[] term)
    {
        ReadOnlySpan<double> mean = fit.Mean.AsSpan(m * p, p);
        mean.CopyTo(term);
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                term[p + (i * p) + j] = mean[i] * mean[j];
        }
    }

    private static void AddShare(Span<double> share, double[] x, double[] met, double risk, double hazard)
    {
        int p = x.Length;
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                share[(i * p) + j] += risk * ((x[i] * x[j] * hazard) - (x[i] * met[j]) - (met[i] * x[j]) + met[p + (i * p) + j]);
        }
    }
}
