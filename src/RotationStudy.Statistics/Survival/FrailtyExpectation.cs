using MathNet.Numerics;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>Expectation-maximisation for a gamma frailty of given variance: frailties, coefficients and baseline in turn.</summary>
internal sealed class FrailtyExpectation
{
    private const double Tolerance = 1e-11;
    private const int MaximumRounds = 20000;

    private readonly CoxPartialLikelihood likelihood;
    private readonly Clusters clusters;
    private readonly double[] offset;
    private readonly double[] met;

    internal FrailtyExpectation(SurvivalTimes times, DesignMatrix x, Clusters clusters, TiesMethod ties, IReadOnlyList<double> start)
    {
        this.clusters = clusters;
        RiskSets sets = RiskSets.Build(times);
        CoxColumns columns = new(sets, x, [], new double[x.Rows]);
        offset = columns.Offset;
        likelihood = new CoxPartialLikelihood(sets, columns, ties);
        Beta = [.. start];
        Frailties = new double[clusters.Count];
        Array.Fill(Frailties, 1);
        Events = new double[clusters.Count];
        met = new double[clusters.Count];
        for (int i = 0; i < times.Rows; i++)
            Events[clusters.ClusterOfRow[i]] += times.IsEvent[i] ? 1 : 0;
    }

    internal double[] Beta { get; }

    internal double[] Frailties { get; }

    internal double[] Events { get; }

    internal ReadOnlySpan<double> Score => likelihood.Score;

    internal double Spread(int column) => likelihood.Columns.Spread[column];

    /// <summary>Repeats until frailties and coefficients stand still; coefficients may be held.</summary>
    internal void Settle(double theta, bool holdCoefficients)
    {
        double nu = 1 / theta;
        for (int round = 0; round < MaximumRounds; round++)
        {
            Evaluate();
            double moved = 0;
            for (int g = 0; g < met.Length; g++)
            {
                double u = (nu + Events[g]) / (nu + (met[g] / Frailties[g]));
                moved = Math.Max(moved, Math.Abs(u - Frailties[g]) / u);
                Frailties[g] = u;
            }
            if (!holdCoefficients)
                moved = Math.Max(moved, NewtonStep());
            if (moved < Tolerance)
            {
                Evaluate();
                return;
            }
        }
        throw new NotConvergedError("frailties and coefficients did not settle", "Use the marginal model with a cluster-robust variance.", MaximumRounds);
    }

    /// <summary>The likelihood with frailties integrated out, less the constant that makes it the partial likelihood at no frailty.</summary>
    internal double IntegratedLogLikelihood(double theta)
    {
        double nu = 1 / theta;
        double sum = likelihood.LogLikelihood;
        for (int g = 0; g < Events.Length; g++)
        {
            double d = Events[g];
            double rising = 0;
            for (int k = 0; k < d; k++)
                rising += Math.Log((nu + k) / (nu + d));
            sum += (nu * Math.Log(Frailties[g])) - (nu * SpecialFunctions.Log1p(d / nu)) + rising + d;
        }
        return sum;
    }

    // The likelihood with log u as offset, and the hazard met by each cluster, frailty included.
    private void Evaluate()
    {
        int[] row = likelihood.Sets.Row;
        for (int q = 0; q < row.Length; q++)
            offset[q] = Math.Log(Frailties[clusters.ClusterOfRow[row[q]]]);
        likelihood.Evaluate(Beta);
        Array.Clear(met);
        for (int q = 0; q < row.Length; q++)
            met[clusters.ClusterOfRow[row[q]]] += likelihood.Risk[q] * likelihood.HazardMet[q];
    }

    private double NewtonStep()
    {
        double[] step = SmallCholesky.Factor(likelihood.Information, Beta.Length, likelihood.Columns.Names).Solve(likelihood.Score);
        double moved = 0;
        for (int j = 0; j < step.Length; j++)
        {
            Beta[j] += step[j];
            moved = Math.Max(moved, Math.Abs(step[j]) * Spread(j));
        }
        return moved;
    }
}
