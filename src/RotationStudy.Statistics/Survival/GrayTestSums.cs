namespace RotationStudy.Statistics.Survival;

/// <summary>Differences of Gray's test with their two variances, on the event times of any cause.</summary>
/// <remarks>
/// With D(g,r) = L (1{g=r} - R_g/R) Y_r/S_r(t-), c its integral against dF_0/(1 - F_0(t-)) and v = (1 - F_0)/S_r, an event of the
/// cause in group r moves the difference of group g by (D + (1 - v)(c(end) - c)) S_r(t-)/Y_r, and an event of another cause by
/// -v (c(end) - c) S_r(t-)/Y_r: the delta method, exchanged in order of integration. In the classical variance F_0 stands for
/// F_r throughout (so that R_g/R becomes Y_g/S_g over its sum, and dF_0 = d over that sum), expected events stand for observed ones
/// of the cause, and tied events are drawn without replacement; in the clustered one v has F_r and the expected events are R_r dF_0/(1 - F_0(t-)),
/// so that with one cause it is the robust log-rank variance.
/// </remarks>
internal sealed class GrayTestSums
{
    private readonly CompetingTimes times;
    private readonly RiskSets sets;
    private readonly Clusters groups;
    private readonly int cause;
    private readonly int k;
    private readonly bool clustered;
    private readonly int[] atRisk;
    private readonly int[] own;
    private readonly int[] other;
    private readonly double[] ofCause;
    private readonly double[] ofOthers;
    private readonly double[] expectedEvents;
    private readonly double[] survivalBefore;

    internal GrayTestSums(CompetingTimes times, int cause, Clusters groups, double rho, bool clustered)
    {
        this.clustered = clustered;
        this.times = times;
        this.cause = cause;
        this.groups = groups;
        k = groups.Count;
        sets = RiskSets.Build(times.AnyCause);
        atRisk = new int[sets.Moments * k];
        own = new int[sets.Moments * k];
        other = new int[sets.Moments * k];
        ofCause = new double[sets.Moments * k * k];
        ofOthers = new double[sets.Moments * k * k];
        expectedEvents = new double[sets.Moments * k];
        survivalBefore = new double[sets.Moments * k];
        Difference = new double[k];
        Expected = new double[k];
        Count();
        Compare(rho);
    }

    internal double[] Difference { get; }

    internal double[] Expected { get; }

    private int GroupAt(int position) => groups.ClusterOfRow[sets.Row[position]];

    private bool IsCause(int position) => times.Cause[sets.Row[position]] == cause;

    private void Count()
    {
        int[] count = new int[k];
        int q = 0;
        int e = 0;
        for (int m = 0; m < sets.Moments; m++)
        {
            for (; q < sets.AtRiskEnd[m]; q++)
                count[GroupAt(q)]++;
            for (; e < sets.RemovedEnd[m]; e++)
                count[GroupAt(sets.EntryOrder[e])]--;
            count.CopyTo(atRisk, m * k);
            for (int i = sets.AtRiskEnd[m] - sets.EventCount[m]; i < sets.AtRiskEnd[m]; i++)
                (IsCause(i) ? own : other)[(m * k) + GroupAt(i)]++;
        }
    }

    // Forward in time: differences, D, and v. Then back: what lies ahead of each time.
    private void Compare(double rho)
    {
        double[] survival = new double[k];
        double[] incidence = new double[k];
        double[] r = new double[k];
        double[] ahead = new double[sets.Moments * k * k];
        double[] ratio = new double[sets.Moments * k];
        double[] total = new double[k * k];
        Array.Fill(survival, 1);
        double pooled = 0;
        for (int m = sets.Moments - 2; m >= 0; m--)
        {
            double all = 0;
            double events = 0;
            double alive = 0;
            for (int g = 0; g < k; g++)
            {
                survivalBefore[(m * k) + g] = survival[g];
                r[g] = survival[g] > 0 ? atRisk[(m * k) + g] * (1 - incidence[g]) / survival[g] : 0;
                all += r[g];
                alive += survival[g] > 0 ? atRisk[(m * k) + g] / survival[g] : 0;
                events += own[(m * k) + g];
            }
            double weight = Math.Pow(1 - pooled, rho);
            double step = clustered ? (all > 0 ? (1 - pooled) * events / all : 0) : alive > 0 ? events / alive : 0;
            double hazard = pooled < 1 ? step / (1 - pooled) : 0;
            for (int g = 0; g < k; g++)
            {
                double share = all > 0 ? r[g] / all : 0;
                Expected[g] += share * events;
                Difference[g] += weight * (own[(m * k) + g] - (share * events));
                // Under equal incidences R_g/R is (Y_g/S_g) over its sum: the classical variance takes that form throughout.
                double equal = clustered ? share : alive > 0 && survival[g] > 0 ? atRisk[(m * k) + g] / survival[g] / alive : 0;
                for (int s = 0; s < k; s++)
                {
                    double d = survival[s] > 0 ? weight * ((g == s ? 1 : 0) - equal) * atRisk[(m * k) + s] / survival[s] : 0;
                    ofCause[(((m * k) + g) * k) + s] = d;
                    ahead[(((m * k) + g) * k) + s] = total[(g * k) + s] += d * hazard;
                }
            }
            pooled += step;
            for (int g = 0; g < k; g++)
            {
                double expected = clustered ? r[g] * hazard : survival[g] > 0 ? WithTies(events, alive * survival[g]) * step * atRisk[(m * k) + g] / survival[g] : 0;
                Advance(m, g, survival, incidence, ratio, expected, pooled);
            }
        }
        LookAhead(ahead, total, ratio);
    }

    // Events at one time are drawn without replacement, as in the hypergeometric variance.
    private static double WithTies(double events, double atRisk) => events > 1 && atRisk > 1 ? 1 - ((events - 1) / (atRisk - 1)) : 1;

    private void Advance(int m, int g, double[] survival, double[] incidence, double[] ratio, double expected, double pooled)
    {
        double y = atRisk[(m * k) + g];
        if (y == 0)
            return;
        expectedEvents[(m * k) + g] = expected;
        incidence[g] += survival[g] * own[(m * k) + g] / y;
        survival[g] *= (y - own[(m * k) + g] - other[(m * k) + g]) / y;
        ratio[(m * k) + g] = survival[g] > 0 ? (1 - (clustered ? incidence[g] : pooled)) / survival[g] : 0;
    }

    private void LookAhead(double[] ahead, double[] total, double[] ratio)
    {
        for (int m = 0; m < sets.Moments - 1; m++)
        {
            for (int g = 0; g < k; g++)
            {
                for (int s = 0; s < k; s++)
                {
                    int at = (((m * k) + g) * k) + s;
                    int y = atRisk[(m * k) + s];
                    double scale = y > 0 ? survivalBefore[(m * k) + s] / y : 0;
                    double remaining = total[(g * k) + s] - ahead[at];
                    double v = ratio[(m * k) + s];
                    ofCause[at] = scale * (ofCause[at] + ((1 - v) * remaining));
                    ofOthers[at] = -scale * v * remaining;
                }
            }
        }
    }

    /// <summary>Variance of the differences for independent rows under equal incidences, k by k.</summary>
    internal double[] Variance()
    {
        double[] variance = new double[k * k];
        for (int m = 0; m < sets.Moments - 1; m++)
        {
            for (int s = 0; s < k; s++)
            {
                double ownEvents = expectedEvents[(m * k) + s];
                double others = other[(m * k) + s] * WithTies(other[(m * k) + s], atRisk[(m * k) + s]);
                for (int g = 0; g < k; g++)
                {
                    for (int h = 0; h < k; h++)
                    {
                        int a = (((m * k) + g) * k) + s;
                        int b = (((m * k) + h) * k) + s;
                        variance[(g * k) + h] += (ofCause[a] * ofCause[b] * ownEvents) + (ofOthers[a] * ofOthers[b] * others);
                    }
                }
            }
        }
        return variance;
    }

    /// <summary>Sum over clusters of squared influences on the differences, k by k.</summary>
    internal double[] Robust(Clusters clusters)
    {
        double[] cumulative = new double[sets.Moments * k * k];
        for (int m = sets.Moments - 2; m >= 0; m--)
        {
            for (int g = 0; g < k; g++)
            {
                for (int s = 0; s < k; s++)
                {
                    int at = (((m * k) + g) * k) + s;
                    int y = atRisk[(m * k) + s];
                    double met = y > 0 ? ((ofCause[at] * expectedEvents[(m * k) + s]) + (ofOthers[at] * other[(m * k) + s])) / y : 0;
                    cumulative[at] = cumulative[at + (k * k)] + met;
                }
            }
        }
        double[] influence = new double[clusters.Count * k];
        for (int q = 0; q < sets.Rows; q++)
        {
            int s = GroupAt(q);
            int first = sets.FirstMoment[q];
            int past = sets.PastMoment[q];
            for (int g = 0; g < k; g++)
            {
                int at = (((first * k) + g) * k) + s;
                double atEvent = !sets.IsEvent[q] ? 0 : IsCause(q) ? ofCause[at] : ofOthers[at];
                influence[(clusters.ClusterOfRow[sets.Row[q]] * k) + g] += atEvent - cumulative[at] + cumulative[(((past * k) + g) * k) + s];
            }
        }
        return GroupDifferences.SumOfSquares(influence, k);
    }
}
