using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Survival;

/// <summary>Maximum likelihood for models whose log cumulative hazard is linear in its parameters: z(t)'theta with z(t) = (basis of log t, x).</summary>
/// <remarks>
/// Log likelihood: sum of delta (z'theta + log(D'theta) - log t) - exp(z'theta) + exp(z(entry)'theta), D the derivative of the basis by
/// log t. Without late entry it is concave, so Newton with step-halving finds its one maximum; steps that would turn the
/// hazard negative at an event are halved too.
/// </remarks>
internal sealed class LogCumulativeHazardModel
{
    private const int MaximumIterations = 60;
    private const double DecrementTolerance = 1e-14;

    private readonly SurvivalTimes times;
    private readonly DesignMatrix x;
    private readonly Func<double, double[]> basis;
    private readonly Func<double, double[]> derivative;
    private readonly int m;
    private readonly int q;
    private readonly IReadOnlyList<string> names;

    internal LogCumulativeHazardModel(
        SurvivalTimes times,
        DesignMatrix x,
        IReadOnlyList<string> basisNames,
        Func<double, double[]> basis,
        Func<double, double[]> derivative)
    {
        this.times = times;
        this.x = x;
        this.basis = basis;
        this.derivative = derivative;
        m = basisNames.Count;
        q = m + x.Columns;
        names = [.. basisNames, .. x.Names];
        Theta = new double[q];
        Scores = new double[times.Rows * q];
        Information = new double[q * q];
    }

    internal double[] Theta { get; }

    internal double LogLikelihood { get; private set; }

    internal int Iterations { get; private set; }

    internal double[] Information { get; }

    /// <summary>Score of each row, row after row.</summary>
    internal double[] Scores { get; }

    internal static void Validate(SurvivalTimes times, DesignMatrix x, Clusters? clusters)
    {
        Require.SameLength(times.Rows, x.Rows, "times");
        if (times.EventCount == 0)
            throw new TooFewDataError("no row ends with an event", "A hazard needs events; report the follow-up without them.");
        for (int i = 0; i < times.Rows; i++)
        {
            if (times.Entry[i] < 0)
                throw new InvalidInputError($"row {i} enters at {times.Entry[i]}", "A hazard over log time needs a clock that starts at zero.", i, "entry");
        }
        ClusterRules.Require(clusters, times.Rows);
    }

    /// <summary>Maximises from the exponential model: basis terms 0 and 1 must be one and log t.</summary>
    internal void Maximize()
    {
        double followed = 0;
        for (int i = 0; i < times.Rows; i++)
            followed += times.Exit[i] - times.Entry[i];
        Theta[0] = Math.Log(times.EventCount / followed);
        Theta[1] = 1;
        double[] score = new double[q];
        double[] tried = new double[q];
        LogLikelihood = Evaluate(Theta, score);
        for (Iterations = 1; Iterations <= MaximumIterations; Iterations++)
        {
            double[] step = SmallCholesky.Factor(Information, q, names).Solve(score);
            double decrement = CrossProduct.Dot(score, step);
            double length = 1;
            double value;
            do
            {
                for (int j = 0; j < q; j++)
                    tried[j] = Theta[j] + (length * step[j]);
                value = Evaluate(tried, score);
                length /= 2;
            }
            while (!(value >= LogLikelihood - (1e-12 * Math.Abs(LogLikelihood))) && length > 1e-9);
            if (!(value >= LogLikelihood - (1e-12 * Math.Abs(LogLikelihood))))
                break;
            tried.CopyTo(Theta, 0);
            LogLikelihood = value;
            if (decrement < DecrementTolerance)
                return;
        }
        throw new NotConvergedError("the likelihood of the parametric hazard did not settle", "Use fewer knots, or look for a column with hardly any events on one side.", Iterations);
    }

    /// <summary>Inverse information, or with clusters the sandwich of their summed scores.</summary>
    internal (SymmetricMatrix Covariance, string Method) Covariance(Clusters? clusters)
    {
        SymmetricMatrix bread = new(names, SmallCholesky.Factor(Information, q, names).Inverse());
        if (clusters is null)
            return (bread, "inverse information");
        double[] sums = new double[clusters.Count * q];
        for (int i = 0; i < times.Rows; i++)
        {
            for (int j = 0; j < q; j++)
                sums[(clusters.ClusterOfRow[i] * q) + j] += Scores[(i * q) + j];
        }
        double[] meat = GroupDifferences.SumOfSquares(sums, q);
        double[] sandwich = CoxClusterCovariance.Product(CoxClusterCovariance.Product(bread.Values, meat, q), bread.Values, q);
        return (new SymmetricMatrix(names, sandwich), "cluster-robust sandwich");
    }

    // Returns minus infinity where the hazard is not positive at an event.
    private double Evaluate(ReadOnlySpan<double> theta, double[] score)
    {
        Array.Clear(score);
        Array.Clear(Information);
        double likelihood = 0;
        double[] z = new double[q];
        for (int i = 0; i < times.Rows; i++)
        {
            Span<double> own = Scores.AsSpan(i * q, q);
            own.Clear();
            likelihood -= AddHazard(i, times.Exit[i], -1, theta, z, own);
            if (times.IsEvent[i])
            {
                double slope = AddEvent(times.Exit[i], theta, own);
                if (!(slope > 0))
                    return double.NegativeInfinity;
                likelihood += CrossProduct.Dot(z, theta) + Math.Log(slope) - Math.Log(times.Exit[i]);
                for (int j = 0; j < q; j++)
                    own[j] += z[j];
            }
            if (times.Entry[i] > 0)
                likelihood += AddHazard(i, times.Entry[i], 1, theta, z, own);
            for (int j = 0; j < q; j++)
                score[j] += own[j];
        }
        return likelihood;
    }

    private double AddHazard(int row, double time, int sign, ReadOnlySpan<double> theta, double[] z, Span<double> own)
    {
        basis(Math.Log(time)).CopyTo(z, 0);
        for (int j = 0; j < x.Columns; j++)
            z[m + j] = x[row, j];
        double hazard = Math.Exp(CrossProduct.Dot(z, theta));
        for (int a = 0; a < q; a++)
        {
            own[a] += sign * hazard * z[a];
            for (int b = 0; b < q; b++)
                Information[(a * q) + b] -= sign * hazard * z[a] * z[b];
        }
        return hazard;
    }

    private double AddEvent(double time, ReadOnlySpan<double> theta, Span<double> own)
    {
        double[] d = derivative(Math.Log(time));
        double slope = CrossProduct.Dot(d, theta[..m]);
        for (int a = 0; a < m; a++)
        {
            own[a] += d[a] / slope;
            for (int b = 0; b < m; b++)
                Information[(a * q) + b] += d[a] * d[b] / (slope * slope);
        }
        return slope;
    }
}
