namespace RotationStudy.Statistics.Survival;

/// <summary>The exact partial likelihood for truly discrete time: the events against every set of as many rows at risk.</summary>
/// <remarks>
/// With d events among the rows at risk the denominator is the elementary symmetric polynomial of order d in exp(eta). It
/// and its derivatives follow from a recursion over rows, E(k) += r E(k-1) (Gail, Lubin and Rubinstein, Biometrika 1981;68:703-707),
/// which costs (rows at risk) x d x p^2 per moment. Scores are scaled by d over their sum, which bounds E by e^d.
/// </remarks>
internal sealed class ExactDiscreteLikelihood : IPartialLikelihood
{
    private const int MostTiedEvents = 600;

    private readonly RiskSets sets;
    private readonly CoxColumns columns;
    private readonly double[] score;
    private readonly double[] information;
    private readonly double[] crude;
    private readonly double[] eta;
    private readonly double[] polynomial;
    private readonly double[] gradient;
    private readonly double[] hessian;
    private readonly int p;

    internal ExactDiscreteLikelihood(RiskSets sets, CoxColumns columns)
    {
        this.sets = sets;
        this.columns = columns;
        p = columns.Names.Count;
        int d = sets.EventCount.Max();
        if (d > MostTiedEvents)
        {
            throw new InvalidInputError(
                $"{d} events share one time, more than the exact method for ties can sum over ({MostTiedEvents})",
                "Use Efron's method, or stratify.");
        }
        score = new double[p];
        information = new double[p * p];
        crude = new double[p];
        eta = new double[sets.Rows];
        polynomial = new double[d + 1];
        gradient = new double[(d + 1) * p];
        hessian = new double[(d + 1) * p * p];
    }

    public double LogLikelihood { get; private set; }

    public ReadOnlySpan<double> Score => score;

    public ReadOnlySpan<double> Information => information;

    public ReadOnlySpan<double> CrudeInformation => crude;

    public void Evaluate(ReadOnlySpan<double> beta)
    {
        Solvers.CrossProduct.LinearPredictor(columns.Design, beta, columns.Offset, eta);
        Array.Clear(score);
        Array.Clear(information);
        Array.Clear(crude);
        LogLikelihood = 0;
        for (int s = 0; s < sets.Strata; s++)
        {
            for (int m = sets.MomentStart[s]; m < sets.MomentStart[s + 1] - 1; m++)
                AddMoment(s, m);
        }
    }

    private void AddMoment(int stratum, int moment)
    {
        int start = sets.StratumStart[stratum];
        int end = sets.AtRiskEnd[moment];
        int d = sets.EventCount[moment];
        double largest = double.NegativeInfinity;
        for (int q = start; q < end; q++)
            largest = Math.Max(largest, AtRisk(q, moment) ? eta[q] : double.NegativeInfinity);
        double total = 0;
        for (int q = start; q < end; q++)
            total += AtRisk(q, moment) ? Math.Exp(eta[q] - largest) : 0;
        double scale = d / total;
        Clear(d);
        for (int q = start; q < end; q++)
        {
            if (AtRisk(q, moment))
                Extend(q, scale * Math.Exp(eta[q] - largest), d);
        }
        LogLikelihood -= Math.Log(polynomial[d]) + (d * (largest - Math.Log(scale)));
        for (int q = end - d; q < end; q++)
        {
            LogLikelihood += eta[q];
            for (int j = 0; j < p; j++)
                score[j] += columns.Design[q, j];
        }
        AddDerivatives(d);
    }

    private bool AtRisk(int position, int moment) => sets.PastMoment[position] > moment;

    private void Clear(int d)
    {
        polynomial.AsSpan(0, d + 1).Clear();
        gradient.AsSpan(0, (d + 1) * p).Clear();
        hessian.AsSpan(0, (d + 1) * p * p).Clear();
        polynomial[0] = 1;
    }

    private void Extend(int q, double r, int d)
    {
        for (int k = d; k > 0; k--)
        {
            int from = (k - 1) * p;
            int to = k * p;
            double before = polynomial[k - 1];
            for (int i = 0; i < p; i++)
            {
                double xi = columns.Design[q, i];
                for (int j = 0; j <= i; j++)
                {
                    double xj = columns.Design[q, j];
                    hessian[((to + i) * p) + j] += r * (hessian[((from + i) * p) + j]
                        + (xi * gradient[from + j]) + (xj * gradient[from + i]) + (xi * xj * before));
                }
            }
            for (int i = 0; i < p; i++)
                gradient[to + i] += r * (gradient[from + i] + (columns.Design[q, i] * before));
            polynomial[k] += r * before;
        }
    }

    private void AddDerivatives(int d)
    {
        for (int i = 0; i < p; i++)
        {
            double mi = gradient[(d * p) + i] / polynomial[d];
            score[i] -= mi;
            for (int j = 0; j <= i; j++)
            {
                double mj = gradient[(d * p) + j] / polynomial[d];
                double second = hessian[(((d * p) + i) * p) + j] / polynomial[d];
                information[(i * p) + j] += second - (mi * mj);
                if (i == j)
                    crude[i] += second;
                else
                    information[(j * p) + i] = information[(i * p) + j];
            }
        }
    }
}
