namespace RotationStudy.Statistics.Survival;

/// <summary>Each row's influence on the score of a Fine-Gray fit: its own part and its part in the censoring weights.</summary>
/// <remarks>
/// Own part: integral of (x - a(t)) w(t) dM(t). Through the weights: integral of q(u)/Y(u) dM_c(u), M_c the martingale of
/// censoring and q(u) the sum over rows lost before u of r/G(X-) times the integral from u on of (x - a) G(t-) dH: the paper's
/// indicator is s >= u > X. Fine and Gray 1999, section 3; all sums are cumulative over sorted rows.
/// </remarks>
internal static class FineGrayResiduals
{
    /// <summary>Influences, column after column by position: n times p values.</summary>
    internal static double[] Influence(FineGrayLikelihood fit, TiedLosses ties)
    {
        int n = fit.Exit.Length;
        int p = fit.Columns.Names.Count;
        double[] influence = new double[n * p];
        double[] met = new double[fit.Sets.Moments];
        double[] tail = new double[fit.Sets.Moments];
        for (int j = 0; j < p; j++)
        {
            Integrals(fit, j, p, met, tail);
            Span<double> target = influence.AsSpan(j * n, n);
            OwnPart(fit, j, p, met, tail, target);
            WeightPart(fit, fit.Columns.Design.Column(j), ties, tail, target);
        }
        return influence;
    }

    // Integral of a dH up to each moment; integral of a G(t-) dH from each moment on.
    private static void Integrals(FineGrayLikelihood fit, int j, int p, double[] met, double[] tail)
    {
        int closing = fit.Sets.Moments - 1;
        met[closing] = 0;
        for (int m = closing - 1; m >= 0; m--)
            met[m] = met[m + 1] + (fit.Mean[(m * p) + j] * fit.Hazard[m]);
        double sum = 0;
        for (int m = 0; m < closing; m++)
            tail[m] = sum += fit.Mean[(m * p) + j] * fit.CensoringAt[m] * fit.Hazard[m];
        tail[closing] = sum;
    }

    private static void OwnPart(FineGrayLikelihood fit, int j, int p, double[] met, double[] tail, Span<double> target)
    {
        ReadOnlySpan<double> x = fit.Columns.Design.Column(j);
        for (int i = 0; i < target.Length; i++)
        {
            int first = fit.Sets.FirstMoment[i];
            double mean = met[first] + (fit.Lost[i] && first > 0 ? tail[first - 1] / fit.Censoring[i] : 0);
            double atEvent = 0;
            foreach (int moment in fit.EventsOf(i))
                atEvent += x[i] - fit.Mean[(moment * p) + j];
            target[i] = atEvent - (fit.Risk[i] * ((x[i] * fit.HazardMet[i]) - mean));
        }
    }

    private static void WeightPart(FineGrayLikelihood fit, ReadOnlySpan<double> x, TiedLosses ties, double[] tail, Span<double> target)
    {
        int n = target.Length;
        double lost = 0;
        double lostX = 0;
        double compensator = 0;
        for (int to = n; to > 0;)
        {
            int from = to;
            while (from > 0 && fit.Exit[from - 1] == fit.Exit[to - 1])
                from--;
            (double Risk, double X, int Censored) here = Tied(fit, x, from, to);
            bool counted = ties == TiedLosses.MeetTheCensoring;
            int moment = counted ? fit.Sets.FirstMoment[from] - 1 : LastMomentFrom(fit, from);
            double beyond = 0;
            if (moment >= 0)
            {
                (double risk, double riskX) = counted ? (lost + here.Risk, lostX + here.X) : (lost, lostX);
                beyond = (riskX * fit.WeightedTail[moment]) - (risk * tail[moment]);
            }
            lost += here.Risk;
            lostX += here.X;
            double perRow = beyond / to;
            compensator += perRow * here.Censored / to;
            for (int i = from; i < to; i++)
                target[i] += (fit.Censored[i] ? perRow : 0) - compensator;
            to = from;
        }
    }

    // Sums of r/G(X-) and of x r/G(X-) over the rows lost at one exit time, and how many are censored at it.
    private static (double Risk, double X, int Censored) Tied(FineGrayLikelihood fit, ReadOnlySpan<double> x, int from, int to)
    {
        (double risk, double riskX, int censored) = (0, 0, 0);
        for (int i = from; i < to; i++)
        {
            censored += fit.Censored[i] ? 1 : 0;
            if (fit.Lost[i])
            {
                risk += fit.Risk[i] / fit.Censoring[i];
                riskX += fit.Risk[i] * x[i] / fit.Censoring[i];
            }
        }
        return (risk, riskX, censored);
    }

    // Moments run from the latest to the earliest: the last one that is not earlier than this position's exit, or -1.
    private static int LastMomentFrom(FineGrayLikelihood fit, int position)
    {
        int first = fit.Sets.FirstMoment[position];
        bool tied = first < fit.Sets.Moments - 1 && fit.Sets.Time[first] == fit.Exit[position];
        return tied ? first : first - 1;
    }
}
