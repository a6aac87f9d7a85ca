namespace RotationStudy.Statistics.Survival;

/// <summary>Each row's share in the score of a proportional-hazards fit, in linear time.</summary>
/// <remarks>
/// Row i contributes w (delta (x - a(t)) - exp(eta) [x A - B]), a the mean of the risk set at its own event (over the turns of
/// tied events), A the hazard met and B the same integral with a in place of 1. Both are differences of cumulative sums
/// over moments, so nothing is quadratic in the rows. Therneau, Grambsch and Fleming, Biometrika 1990;77:147-160.
/// </remarks>
internal static class CoxScoreResiduals
{
    /// <summary>Weighted residuals, column after column by position: n times p values.</summary>
    /// <param name="fit">The likelihood at the estimate.</param>
    /// <param name="factor">A factor g(t) for each moment, for the score of a column times g(t); empty for one.</param>
    internal static double[] Weighted(CoxPartialLikelihood fit, ReadOnlySpan<double> factor = default)
    {
        RiskSets sets = fit.Sets;
        int p = fit.Columns.Names.Count;
        double[] own = new double[sets.Moments * p];
        double[] cumulative = new double[sets.Moments * p];
        double[] tied = new double[sets.Moments * p];
        double[] met = HazardMet(fit, factor);
        Accumulate(fit, factor, p, own, cumulative, tied);
        double[] residuals = new double[sets.Rows * p];
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> x = fit.Columns.Design.Column(j);
            Span<double> target = residuals.AsSpan(j * sets.Rows, sets.Rows);
            for (int q = 0; q < sets.Rows; q++)
            {
                int first = sets.FirstMoment[q];
                double mean = cumulative[(first * p) + j] - cumulative[(sets.PastMoment[q] * p) + j];
                double atEvent = 0;
                if (sets.IsEvent[q])
                {
                    mean -= tied[(first * p) + j];
                    atEvent = fit.Weight(q) * ((Factor(factor, first) * x[q]) - own[(first * p) + j]);
                }
                target[q] = atEvent - (fit.Risk[q] * ((x[q] * met[q]) - mean));
            }
        }
        return residuals;
    }

    /// <summary>The integral of g(t) over the hazard each position meets while at risk.</summary>
    internal static double[] HazardMet(CoxPartialLikelihood fit, ReadOnlySpan<double> factor)
    {
        if (factor.IsEmpty)
            return fit.HazardMet;
        RiskSets sets = fit.Sets;
        double[] cumulative = new double[sets.Moments];
        for (int s = 0; s < sets.Strata; s++)
        {
            for (int m = sets.MomentStart[s + 1] - 2; m >= sets.MomentStart[s]; m--)
                cumulative[m] = cumulative[m + 1] + (factor[m] * fit.Hazard[m]);
        }
        double[] met = new double[sets.Rows];
        for (int q = 0; q < met.Length; q++)
        {
            int m = sets.FirstMoment[q];
            met[q] = cumulative[m] - cumulative[sets.PastMoment[q]];
            if (sets.IsEvent[q])
                met[q] += factor[m] * (fit.EventHazard[m] - fit.Hazard[m]);
        }
        return met;
    }

    private static double Factor(ReadOnlySpan<double> factor, int moment) => factor.IsEmpty ? 1 : factor[moment];

    // own: mean of a over turns; cumulative: sum of v a / denominator up to the moment; tied: what tied events do not meet.
    private static void Accumulate(CoxPartialLikelihood fit, ReadOnlySpan<double> factor, int p, double[] own, double[] cumulative, double[] tied)
    {
        RiskSets sets = fit.Sets;
        Span<double> mean = stackalloc double[p];
        Span<double> running = stackalloc double[p];
        for (int s = 0; s < sets.Strata; s++)
        {
            running.Clear();
            for (int m = sets.MomentStart[s + 1] - 1; m >= sets.MomentStart[s]; m--)
            {
                int d = sets.EventCount[m];
                for (int k = 0; k < d && fit.EventWeight[m] > 0; k++)
                {
                    double share = fit.Share(m, k);
                    double g = Factor(factor, m);
                    double step = g * fit.EventWeight[m] / (fit.S0[m] - (share * fit.D0[m]));
                    fit.RiskSetMean(m, k, mean);
                    for (int j = 0; j < p; j++)
                    {
                        own[(m * p) + j] += g * mean[j] / d;
                        running[j] += step * mean[j];
                        tied[(m * p) + j] += share * step * mean[j];
                    }
                }
                running.CopyTo(cumulative.AsSpan(m * p, p));
            }
        }
    }
}
