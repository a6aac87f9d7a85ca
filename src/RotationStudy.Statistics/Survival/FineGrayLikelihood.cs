using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>The weighted log partial likelihood of Fine and Gray, and of Ghosh and Lin where rows have several events, in one pass over sorted rows.</summary>
/// <remarks>
/// At an event time t the risk sum is A(t) + G(t-) B(t): A over rows with exit at or after t, B over rows lost to another cause
/// before t of exp(eta)/G(X-). The hazard a lost row meets after X is (1/G(X-)) times the integral of G(t-) dH beyond X.
/// </remarks>
internal sealed class FineGrayLikelihood : IPartialLikelihood
{
    private readonly double[] eta;
    private readonly double[] running;
    private readonly double[] score;
    private readonly double[] information;
    private readonly double[] crude;
    private readonly double[] s0;
    private readonly int p;

    /// <param name="sets">Risk sets with the moments of events.</param>
    /// <param name="columns">Columns by position.</param>
    /// <param name="exit">Exit time of each row.</param>
    /// <param name="lost">Whether each row was lost to another cause at its exit.</param>
    /// <param name="censored">Whether each row was censored at its exit.</param>
    internal FineGrayLikelihood(RiskSets sets, CoxColumns columns, ReadOnlySpan<double> exit, Func<int, bool> lost, Func<int, bool> censored)
    {
        Sets = sets;
        Columns = columns;
        p = columns.Names.Count;
        int n = sets.Rows;
        Lost = new bool[n];
        Censored = new bool[n];
        Exit = new double[n];
        for (int q = 0; q < n; q++)
        {
            Lost[q] = lost(sets.Row[q]);
            Censored[q] = censored(sets.Row[q]);
            Exit[q] = exit[sets.Row[q]];
        }
        Censoring = new double[n];
        CensoringAt = new double[sets.Moments];
        EstimateCensoring();
        (eta, running, Risk, HazardMet) = (new double[n], new double[n], new double[n], new double[n]);
        (score, information, crude) = (new double[p], new double[p * p], new double[p]);
        (s0, Mean) = (new double[sets.Moments], new double[sets.Moments * p]);
        (Hazard, CumulativeHazard, WeightedTail) = (new double[sets.Moments], new double[sets.Moments], new double[sets.Moments]);
    }

    internal RiskSets Sets { get; }

    internal CoxColumns Columns { get; }

    /// <summary>Whether each position was lost to another cause.</summary>
    internal bool[] Lost { get; }

    /// <summary>Whether each position was censored.</summary>
    internal bool[] Censored { get; }

    /// <summary>Exit time by position, latest first.</summary>
    internal double[] Exit { get; }

    /// <summary>G(X-) by position.</summary>
    internal double[] Censoring { get; }

    /// <summary>G(t-) by moment.</summary>
    internal double[] CensoringAt { get; }

    /// <summary>exp(eta) by position, less the shift.</summary>
    internal double[] Risk { get; }

    internal double Shift { get; private set; }

    internal double[] HazardMet { get; }

    /// <summary>Weighted mean of the centred columns at each moment, moments by p.</summary>
    internal double[] Mean { get; }

    internal double[] Hazard { get; }

    internal double[] CumulativeHazard { get; }

    /// <summary>Sum of G(t-) dH over this and all later moments.</summary>
    internal double[] WeightedTail { get; }

    /// <summary>The moments at which a position had its events.</summary>
    internal ReadOnlySpan<int> EventsOf(int q) => Sets.EventMoment.AsSpan(Sets.EventStart[q], Sets.EventStart[q + 1] - Sets.EventStart[q]);

    public double LogLikelihood { get; private set; }

    public ReadOnlySpan<double> Score => score;

    public ReadOnlySpan<double> Information => information;

    public ReadOnlySpan<double> CrudeInformation => crude;

    public void Evaluate(ReadOnlySpan<double> beta)
    {
        CrossProduct.LinearPredictor(Columns.Design, beta, [], eta);
        Shift = eta.Max();
        for (int q = 0; q < eta.Length; q++)
        {
            eta[q] -= Shift;
            Risk[q] = Math.Exp(eta[q]);
        }
        RiskSum(Risk, s0, 0, 1);
        double likelihood = HazardSteps();
        for (int q = 0; q < eta.Length; q++)
        {
            likelihood += EventsOf(q).Length * eta[q];
            int first = Sets.FirstMoment[q];
            HazardMet[q] = CumulativeHazard[first] + (Lost[q] && first > 0 ? WeightedTail[first - 1] / Censoring[q] : 0);
        }
        LogLikelihood = likelihood;
        Derivatives();
    }

    // Kaplan-Meier of being uncensored; all rows with exit at or after a time are at risk of censoring at it.
    private void EstimateCensoring()
    {
        int n = Exit.Length;
        double survival = 1;
        int m = Sets.Moments - 2;
        for (int to = n; to > 0;)
        {
            int from = to;
            int censored = 0;
            while (from > 0 && Exit[from - 1] == Exit[to - 1])
            {
                from--;
                Censoring[from] = survival;
                censored += Censored[from] ? 1 : 0;
            }
            while (m >= 0 && Sets.Time[m] <= Exit[from])
                CensoringAt[m--] = survival;
            survival *= 1 - ((double)censored / to);
            to = from;
        }
    }

    private void RiskSum(ReadOnlySpan<double> value, double[] target, int offset, int stride)
    {
        double sum = 0;
        int q = 0;
        for (int m = 0; m < Sets.Moments; m++)
        {
            for (; q < Sets.AtRiskEnd[m]; q++)
                sum += value[q];
            target[(m * stride) + offset] = sum;
        }
        double lost = 0;
        q = Exit.Length;
        for (int m = Sets.Moments - 2; m >= 0; m--)
        {
            for (; q > Sets.AtRiskEnd[m]; q--)
                lost += Lost[q - 1] ? value[q - 1] / Censoring[q - 1] : 0;
            target[(m * stride) + offset] += CensoringAt[m] * lost;
        }
    }

    private double HazardSteps()
    {
        double sum = 0;
        double cumulative = 0;
        for (int m = Sets.Moments - 2; m >= 0; m--)
        {
            Hazard[m] = Sets.EventCount[m] / s0[m];
            CumulativeHazard[m] = cumulative += Hazard[m];
            sum -= Sets.EventCount[m] * Math.Log(s0[m]);
        }
        double tail = 0;
        for (int m = 0; m < Sets.Moments - 1; m++)
            WeightedTail[m] = tail += CensoringAt[m] * Hazard[m];
        WeightedTail[^1] = tail;
        return sum;
    }

    private void Derivatives()
    {
        for (int j = 0; j < p; j++)
        {
            ReadOnlySpan<double> x = Columns.Design.Column(j);
            for (int q = 0; q < running.Length; q++)
                running[q] = Risk[q] * x[q];
            RiskSum(running, Mean, j, p);
        }
        for (int m = 0; m < Sets.Moments - 1; m++)
        {
            for (int j = 0; j < p; j++)
                Mean[(m * p) + j] /= s0[m];
        }
        for (int q = 0; q < running.Length; q++)
            running[q] = EventsOf(q).Length - (Risk[q] * HazardMet[q]);
        CrossProduct.WithVector(Columns.Design, running, score);
        for (int q = 0; q < running.Length; q++)
            running[q] = Risk[q] * HazardMet[q];
        CrossProduct.Weighted(Columns.Design, running, information);
        for (int j = 0; j < p; j++)
            crude[j] = information[(j * p) + j];
        for (int m = 0; m < Sets.Moments - 1; m++)
        {
            for (int i = 0; i < p; i++)
            {
                for (int j = 0; j < p; j++)
                    information[(i * p) + j] -= Sets.EventCount[m] * Mean[(m * p) + i] * Mean[(m * p) + j];
            }
        }
    }
}
