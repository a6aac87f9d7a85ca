namespace RotationStudy.Statistics.Survival;

/// <summary>Cumulative incidence of one cause in one group with its two variances; values per moment of the group, latest first.</summary>
internal sealed class IncidenceSums
{
    private readonly CompetingTimes times;
    private readonly RiskSets sets;
    private readonly int group;
    private readonly int cause;
    private readonly int start;
    private readonly int last;
    private readonly double[] survivalBefore;

    internal IncidenceSums(CompetingTimes times, RiskSets sets, int group, int cause)
    {
        this.times = times;
        this.sets = sets;
        this.group = group;
        this.cause = cause;
        start = sets.MomentStart[group];
        last = sets.MomentStart[group + 1] - 2;
        Events = new int[last + 1 - start];
        Incidence = new double[Events.Length];
        survivalBefore = new double[Events.Length];
        double survival = 1;
        double incidence = 0;
        for (int m = last; m >= start; m--)
        {
            for (int q = sets.AtRiskEnd[m] - sets.EventCount[m]; q < sets.AtRiskEnd[m]; q++)
                Events[m - start] += times.Cause[sets.Row[q]] == cause ? 1 : 0;
            survivalBefore[m - start] = survival;
            Incidence[m - start] = incidence += survival * Events[m - start] / sets.AtRisk(m);
            survival *= (double)(sets.AtRisk(m) - sets.EventCount[m]) / sets.AtRisk(m);
        }
    }

    internal int[] Events { get; }

    internal double[] Incidence { get; }

    /// <summary>
    /// Aalen's variance: the sum over s up to t of (S(s-)/Y)^2 times (1 - u)^2 d_k (Y - d_k)/(Y - 1) for the cause and u^2 d_o (Y - d_o)/(Y - 1)
    /// for the others, u = (F(t) - F(s)) / S(s); the square is opened so that three sums serve every t.
    /// </summary>
    internal double[] Aalen()
    {
        double[] variance = new double[Events.Length];
        double one = 0, linear = 0, square = 0;
        for (int m = last; m >= start; m--)
        {
            int i = m - start;
            double y = sets.AtRisk(m);
            int others = sets.EventCount[m] - Events[i];
            double after = survivalBefore[i] * (y - sets.EventCount[m]) / y;
            double slope = after > 0 ? 1 / after : 0;
            // u = slope F(t) - base; the cause enters with (1 + base) - slope F(t), the others with base - slope F(t).
            double level = slope * Incidence[i];
            Add(Spread(Events[i], y, survivalBefore[i]), 1 + level);
            Add(Spread(others, y, survivalBefore[i]), level);
            variance[i] = Math.Max(0, one - (2 * Incidence[i] * linear) + (Incidence[i] * Incidence[i] * square));

            void Add(double spread, double constant)
            {
                one += constant * constant * spread;
                linear += constant * slope * spread;
                square += slope * slope * spread;
            }
        }
        return variance;
    }

    private static double Spread(int events, double atRisk, double survivalBefore)
    {
        if (events == 0)
            return 0;
        double ties = events > 1 ? (atRisk - events) / (atRisk - 1) : 1;
        return survivalBefore * survivalBefore / (atRisk * atRisk) * events * ties;
    }

    /// <summary>
    /// Infinitesimal jackknife. A row at risk since e has influence P(t) - P(e) - C(e)(F(t) - F(e)), with C the sum of d / (Y (Y - d)) and
    /// P the sum of S(s-) (d_k / Y) (C(s-) - 1/Y); after it left at x, a constant plus (C(x) - C(e) - [event] 1/(Y - d)) (F(t) - F(x)).
    /// </summary>
    internal double[] Jackknife(Clusters clusters)
    {
        double[] variance = new double[Events.Length];
        ClusterInfluence influence = new(clusters.Count, 3);
        double c = 0, f = 0, p = 0;
        int next = sets.StratumStart[group + 1];
        for (int m = last; m >= start; m--)
        {
            int i = m - start;
            while (next > sets.RemovedEnd[m])
                Change(sets.EntryOrder[--next], (c * f) - p, -c, 1);
            double y = sets.AtRisk(m);
            double left = y - sets.EventCount[m];
            p += survivalBefore[i] * Events[i] / y * (c - (1 / y));
            f = Incidence[i];
            c += left > 0 ? sets.EventCount[m] / (y * left) : 0;
            for (int q = sets.LeavingStart(group, m); q < sets.AtRiskEnd[m]; q++)
            {
                double any = sets.IsEvent[q] && left > 0 ? 1 / left : 0;
                double own = sets.IsEvent[q] && times.Cause[sets.Row[q]] == cause ? survivalBefore[i] / y : 0;
                Change(q, p + own - (c * f) + (any * f), c - any, -1);
            }
            variance[i] = influence.Variance([1, f, p]);
            if (left == 0)
            {
                variance.AsSpan(0, i).Fill(variance[i]);
                break;
            }
        }
        return variance;

        void Change(int position, double constant, double slope, int atRisk)
        {
            if (sets.FirstMoment[position] == sets.PastMoment[position])
                return;
            int cluster = clusters.ClusterOfRow[sets.Row[position]];
            influence.Add(cluster, 0, constant);
            influence.Add(cluster, 1, slope);
            influence.Add(cluster, 2, atRisk);
        }
    }
}
