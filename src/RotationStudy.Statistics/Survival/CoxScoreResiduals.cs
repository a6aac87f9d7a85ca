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
    internal static double[] Weighted(CoxPartialLikelihood fit)
    {
        RiskSets sets = fit.Sets;
        int p = fit.Columns.Names.Count;
        double[] own = new double[sets.Moments * p];
        double[] cumulative = new double[sets.Moments * p];
        double[] tied = new double[sets.Moments * p];
        Accumulate(fit, p, own, cumulative, tied);
        double[] residuals = new double[sets.Rows * p];
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> x = fit.Columns.Design.Column(j);
            Span<double> target = residuals.AsSpan(j * sets.Rows, sets.Rows);
            for (int q = 0; q < sets.Rows; q++)
            {
                int first = sets.FirstMoment[q];
                double met = cumulative[(first * p) + j] - cumulative[(sets.PastMoment[q] * p) + j];
                double event_ = 0;
                if (sets.IsEvent[q])
                {
                    met -= tied[(first * p) + j];
                    event_ = fit.Weight(q) * (x[q] - own[(first * p) + j]);
                }
                target[q] = event_ - (fit.Risk[q] * ((x[q] * fit.HazardMet[q]) - met));
            }
        }
        return residuals;
    }

    // own: mean of a over turns; cumulative: sum of v a / denominator up to the moment; tied: what tied events do not meet.
    private static void Accumulate(CoxPartialLikelihood fit, int p, double[] own, double[] cumulative, double[] tied)
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
                    double step = fit.EventWeight[m] / (fit.S0[m] - (share * fit.D0[m]));
                    fit.RiskSetMean(m, k, mean);
                    for (int j = 0; j < p; j++)
                    {
                        own[(m * p) + j] += mean[j] / d;
                        running[j] += step * mean[j];
                        tied[(m * p) + j] += share * step * mean[j];
                    }
                }
                running.CopyTo(cumulative.AsSpan(m * p, p));
            }
        }
    }
}
