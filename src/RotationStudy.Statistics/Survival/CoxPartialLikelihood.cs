using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>Cox's log partial likelihood with Efron's or Breslow's treatment of ties, in one pass over sorted rows.</summary>
/// <remarks>
/// With r = w exp(eta), S0 = sum of r over the risk set, S1 = sum of r x, D0 and D1 the same over the d events of a moment, and
/// k = 0..d-1 the turn of a tied event (f = k/d for Efron, f = 0 for Breslow):
/// log likelihood = sum of w eta over events - sum over moments and turns of v log(S0 - f D0), v = mean weight of the events;
/// score = X'(w delta - r A), A the hazard met while at risk, so that the bracket is the martingale residual;
/// information = X' diag(r A) X - sum of v a a', a = (S1 - f D1) / (S0 - f D0).
/// The first part of each is a plain cross-product over rows; only S0 and S1 need running sums, so one evaluation costs
/// O(n p^2) contiguous work, delayed entry included. S0 and S1 are exact differences there (see CompensatedSum).
/// </remarks>
internal sealed class CoxPartialLikelihood : IPartialLikelihood
{
    private readonly double[] score;
    private readonly double[] information;
    private readonly double[] crude;
    private readonly double[] running;
    private readonly int p;

    internal CoxPartialLikelihood(RiskSets sets, CoxColumns columns, TiesMethod ties)
    {
        Sets = sets;
        Columns = columns;
        Ties = ties;
        p = columns.Names.Count;
        score = new double[p];
        information = new double[p * p];
        crude = new double[p];
        running = new double[sets.Rows];
        Eta = new double[sets.Rows];
        Risk = new double[sets.Rows];
        HazardMet = new double[sets.Rows];
        Shift = new double[sets.Strata];
        S0 = new double[sets.Moments];
        D0 = new double[sets.Moments];
        S1 = new double[sets.Moments * p];
        D1 = new double[sets.Moments * p];
        EventWeight = new double[sets.Moments];
        Hazard = new double[sets.Moments];
        EventHazard = new double[sets.Moments];
        CumulativeHazard = new double[sets.Moments];
        for (int m = 0; m < sets.Moments; m++)
            EventWeight[m] = MeanEventWeight(m);
    }

    internal RiskSets Sets { get; }

    internal CoxColumns Columns { get; }

    internal TiesMethod Ties { get; }

    /// <summary>Linear predictor by position, less the stratum's <see cref="Shift"/>.</summary>
    internal double[] Eta { get; }

    /// <summary>w exp(eta) by position.</summary>
    internal double[] Risk { get; }

    /// <summary>A, the hazard met by each position while at risk, on the shifted scale.</summary>
    internal double[] HazardMet { get; }

    /// <summary>What was subtracted from the linear predictor of each stratum so that the largest risk is w.</summary>
    internal double[] Shift { get; }

    internal double[] S0 { get; }

    internal double[] D0 { get; }

    internal double[] S1 { get; }

    internal double[] D1 { get; }

    /// <summary>Mean weight of the events of each moment.</summary>
    internal double[] EventWeight { get; }

    /// <summary>Step of the cumulative baseline hazard at each moment, on the shifted scale.</summary>
    internal double[] Hazard { get; }

    /// <summary>The same step as the tied events themselves meet it: each turn counts 1 - f.</summary>
    internal double[] EventHazard { get; }

    /// <summary>Cumulative baseline hazard up to and at each moment, on the shifted scale.</summary>
    internal double[] CumulativeHazard { get; }

    public double LogLikelihood { get; private set; }

    public ReadOnlySpan<double> Score => score;

    public ReadOnlySpan<double> Information => information;

    public ReadOnlySpan<double> CrudeInformation => crude;

    /// <summary>Weight of a position.</summary>
    internal double Weight(int position) => Columns.Weights.Length == 0 ? 1 : Columns.Weights[position];

    /// <summary>Share f of the tied events that a turn no longer counts.</summary>
    internal double Share(int moment, int turn) => Ties == TiesMethod.Efron ? (double)turn / Sets.EventCount[moment] : 0;

    public void Evaluate(ReadOnlySpan<double> beta)
    {
        CrossProduct.LinearPredictor(Columns.Design, beta, Columns.Offset, Eta);
        Exponentiate();
        RunningSum(Risk, S0, D0, 0, 1);
        double sum = HazardSteps();
        for (int q = 0; q < Sets.Rows; q++)
        {
            double met = CumulativeHazard[Sets.FirstMoment[q]] - CumulativeHazard[Sets.PastMoment[q]];
            if (Sets.IsEvent[q])
            {
                int m = Sets.FirstMoment[q];
                met += EventHazard[m] - Hazard[m];
                sum += Weight(q) * Eta[q];
            }
            HazardMet[q] = met;
        }
        LogLikelihood = sum;
        Derivatives();
    }

    private double MeanEventWeight(int moment)
    {
        int d = Sets.EventCount[moment];
        if (d == 0)
            return 0;
        double sum = 0;
        for (int q = Sets.AtRiskEnd[moment] - d; q < Sets.AtRiskEnd[moment]; q++)
            sum += Weight(q);
        return sum / d;
    }

    private void Exponentiate()
    {
        for (int s = 0; s < Sets.Strata; s++)
        {
            double largest = double.NegativeInfinity;
            for (int q = Sets.StratumStart[s]; q < Sets.StratumStart[s + 1]; q++)
                largest = Math.Max(largest, Eta[q]);
            Shift[s] = largest;
            for (int q = Sets.StratumStart[s]; q < Sets.StratumStart[s + 1]; q++)
            {
                Eta[q] -= largest;
                Risk[q] = Weight(q) * Math.Exp(Eta[q]);
            }
        }
    }

    /// <summary>Sums of a value over each risk set and over its events, written with a stride.</summary>
    internal void RunningSum(ReadOnlySpan<double> value, double[] atRisk, double[] events, int offset, int stride)
    {
        for (int s = 0; s < Sets.Strata; s++)
        {
            CompensatedSum total = default;
            double plain = 0;
            int q = Sets.StratumStart[s];
            int e = q;
            for (int m = Sets.MomentStart[s]; m < Sets.MomentStart[s + 1]; m++)
            {
                int end = Sets.AtRiskEnd[m];
                int firstEvent = end - Sets.EventCount[m];
                double tied = 0;
                for (int i = firstEvent; i < end; i++)
                    tied += value[i];
                events[(m * stride) + offset] = tied;
                if (!Sets.HasLateEntry)
                {
                    for (; q < end; q++)
                        plain += value[q];
                    atRisk[(m * stride) + offset] = plain;
                    continue;
                }
                for (; q < end; q++)
                    total.Add(value[q]);
                for (; e < Sets.RemovedEnd[m]; e++)
                    total.Add(-value[Sets.EntryOrder[e]]);
                atRisk[(m * stride) + offset] = total.Value;
            }
        }
    }

    // Fills the hazard steps and returns minus the sum of v log(S0 - f D0).
    private double HazardSteps()
    {
        double sum = 0;
        for (int s = 0; s < Sets.Strata; s++)
        {
            double cumulative = 0;
            for (int m = Sets.MomentStart[s + 1] - 1; m >= Sets.MomentStart[s]; m--)
            {
                double step = 0;
                double eventStep = 0;
                for (int k = 0; k < Sets.EventCount[m]; k++)
                {
                    double share = Share(m, k);
                    double denominator = S0[m] - (share * D0[m]);
                    if (EventWeight[m] == 0)
                        continue;
                    sum -= EventWeight[m] * Math.Log(denominator);
                    step += EventWeight[m] / denominator;
                    eventStep += (1 - share) * EventWeight[m] / denominator;
                }
                Hazard[m] = step;
                EventHazard[m] = eventStep;
                CumulativeHazard[m] = cumulative += step;
            }
        }
        return sum;
    }

    private void Derivatives()
    {
        for (int j = 0; j < p; j++)
        {
            Multiply(Columns.Design.Column(j), Risk, running);
            RunningSum(running, S1, D1, j, p);
        }
        for (int q = 0; q < Sets.Rows; q++)
            running[q] = (Sets.IsEvent[q] ? Weight(q) : 0) - (Risk[q] * HazardMet[q]);
        CrossProduct.WithVector(Columns.Design, running, score);
        SecondMoments(default, information);
        for (int j = 0; j < p; j++)
            crude[j] = information[(j * p) + j];
        SubtractMeans(default, information);
    }

    /// <summary>Sum over events of g(t) times the covariance of the columns in the risk set, p by p; g is given per moment, empty for one.</summary>
    internal void WeightedInformation(ReadOnlySpan<double> factor, double[] result)
    {
        SecondMoments(factor, result);
        SubtractMeans(factor, result);
    }

    private void SecondMoments(ReadOnlySpan<double> factor, double[] result)
    {
        Multiply(Risk, CoxScoreResiduals.HazardMet(this, factor), running);
        CrossProduct.Weighted(Columns.Design, running, result);
    }

    private void SubtractMeans(ReadOnlySpan<double> factor, double[] result)
    {
        Span<double> mean = stackalloc double[p];
        for (int m = 0; m < Sets.Moments; m++)
        {
            double weight = EventWeight[m] * (factor.IsEmpty ? 1 : factor[m]);
            for (int k = 0; k < Sets.EventCount[m] && EventWeight[m] > 0; k++)
            {
                RiskSetMean(m, k, mean);
                for (int i = 0; i < p; i++)
                {
                    for (int j = 0; j <= i; j++)
                        result[(i * p) + j] -= weight * mean[i] * mean[j];
                }
            }
        }
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < i; j++)
                result[(j * p) + i] = result[(i * p) + j];
        }
    }

    /// <summary>a, the mean of the centred columns over the risk set at a turn of a moment.</summary>
    internal void RiskSetMean(int moment, int turn, Span<double> mean)
    {
        double share = Share(moment, turn);
        double denominator = S0[moment] - (share * D0[moment]);
        for (int j = 0; j < p; j++)
            mean[j] = (S1[(moment * p) + j] - (share * D1[(moment * p) + j])) / denominator;
    }

    private static void Multiply(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> result)
    {
        for (int i = 0; i < a.Length; i++)
            result[i] = a[i] * b[i];
    }
}
