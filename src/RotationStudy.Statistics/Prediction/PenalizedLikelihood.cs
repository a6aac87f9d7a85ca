using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Prediction;

/// <summary>The penalised logistic likelihood on standardised columns, climbed from where the last fit ended.</summary>
internal sealed class PenalizedLikelihood
{
    private const int MaximumSteps = 200;
    private const int MaximumSweeps = 10_000;
    private const double Tolerance = 1e-10;
    private const int MaximumHalvings = 30;

    private readonly int n;
    private readonly int p;
    private readonly double[] columns;
    private readonly double[] scale;
    private readonly double[] mean;
    private readonly double[] outcome;
    private readonly double[] eta;
    private readonly double[] score;
    private readonly double[] weight;
    private readonly double[] b;
    private readonly double[] information;
    private readonly double[] gradient;

    /// <summary>Position 0 is the intercept; columns 1 to p are standardised.</summary>
    internal PenalizedLikelihood(DesignMatrix x, ReadOnlySpan<double> outcome)
    {
        Require.SameLength(outcome.Length, x.Rows, "outcome");
        (n, p) = (x.Rows, x.Columns);
        this.outcome = outcome.ToArray();
        double events = 0;
        for (int i = 0; i < n; i++)
        {
            if (outcome[i] is not (0 or 1))
                throw new InvalidInputError(FormattableString.Invariant($"'outcome' holds {outcome[i]} in row {i}, neither 0 nor 1"), "Code the event as 1 and its absence as 0.", i, "outcome");
            events += outcome[i];
        }
        if (events == 0 || events == n)
            throw new TooFewDataError($"{events} of {n} rows have the event", "A risk can be modelled only where some have it and some have not.");
        columns = new double[n * (p + 1)];
        columns.AsSpan(0, n).Fill(1);
        scale = new double[p];
        mean = new double[p];
        for (int j = 0; j < p; j++)
            Standardize(x, j);
        eta = new double[n];
        score = new double[n];
        weight = new double[n];
        b = new double[p + 1];
        b[0] = Math.Log(events / (n - events));
        information = new double[(p + 1) * (p + 1)];
        gradient = new double[p + 1];
    }

    /// <summary>The smallest strength at which the lasso leaves no column.</summary>
    internal double LargestLasso
    {
        get
        {
            Evaluate(b);
            double largest = 0;
            for (int j = 1; j <= p; j++)
                largest = Math.Max(largest, Math.Abs(CrossProduct.Dot(Column(j), score)) / n);
            return largest;
        }
    }

    internal PenalizedFit Fit(CoefficientPenalty penalty, double strength)
    {
        double[] trial = new double[p + 1];
        double logLikelihood = Evaluate(b);
        for (int step = 1; step <= MaximumSteps; step++)
        {
            Differentiate();
            double[] target = Quadratic(penalty, strength);
            double objective = (logLikelihood / n) - Cost(b, penalty, strength);
            double share = 1;
            double reached = double.NegativeInfinity;
            for (int halving = 0; halving <= MaximumHalvings; halving++, share /= 2)
            {
                for (int j = 0; j <= p; j++)
                    trial[j] = b[j] + (share * (target[j] - b[j]));
                reached = Evaluate(trial);
                if ((reached / n) - Cost(trial, penalty, strength) >= objective - (1e-14 * Math.Abs(objective)))
                    break;
            }
            double moved = 0;
            for (int j = 0; j <= p; j++)
            {
                moved = Math.Max(moved, Math.Abs(trial[j] - b[j]));
                b[j] = trial[j];
            }
            logLikelihood = reached;
            if (moved <= Tolerance)
                return Result(strength, logLikelihood, step);
        }
        throw new NotConvergedError("the penalised fit did not converge", "Look for columns that say the same, or take a larger strength.", MaximumSteps);
    }

    private void Standardize(DesignMatrix x, int j)
    {
        ReadOnlySpan<double> from = x.Column(j);
        Require.Finite(from, x.Names[j]);
        double sum = 0;
        foreach (double v in from)
            sum += v;
        mean[j] = sum / n;
        double squares = 0;
        foreach (double v in from)
            squares += (v - mean[j]) * (v - mean[j]);
        scale[j] = Math.Sqrt(squares / n);
        if (!(scale[j] > 1e-12 * (1 + Math.Abs(mean[j]))))
            throw new InvalidInputError($"column '{x.Names[j]}' has the same value in every row", "Leave it out.", column: x.Names[j]);
        Span<double> to = columns.AsSpan((j + 1) * n, n);
        for (int i = 0; i < n; i++)
            to[i] = (from[i] - mean[j]) / scale[j];
    }

    private ReadOnlySpan<double> Column(int j) => columns.AsSpan(j * n, n);

    private double Evaluate(double[] at)
    {
        Array.Clear(eta);
        for (int j = 0; j <= p; j++)
            CrossProduct.AddScaled(Column(j), at[j], eta);
        double total = 0;
        LogisticFamily family = default;
        for (int i = 0; i < n; i++)
            total += family.LogLikelihood(outcome[i], eta[i], out score[i], out weight[i]);
        return total;
    }

    private void Differentiate()
    {
        CrossProduct.Weighted(columns, n, p + 1, weight, information);
        for (int j = 0; j <= p; j++)
            gradient[j] = CrossProduct.Dot(Column(j), score);
    }

    private double Cost(double[] at, CoefficientPenalty penalty, double strength)
    {
        double sum = 0;
        for (int j = 1; j <= p; j++)
            sum += penalty == CoefficientPenalty.Ridge ? 0.5 * at[j] * at[j] : Math.Abs(at[j]);
        return strength * sum;
    }

    /// <summary>Maximises the quadratic approximation less the penalty, coordinate by coordinate, from the present coefficients.</summary>
    private double[] Quadratic(CoefficientPenalty penalty, double strength)
    {
        int size = p + 1;
        double[] at = [.. b];
        double[] left = new double[size];
        for (int j = 0; j < size; j++)
            left[j] = gradient[j] / n;
        for (int sweep = 0; sweep < MaximumSweeps; sweep++)
        {
            double moved = 0;
            for (int j = 0; j < size; j++)
            {
                double curvature = information[(j * size) + j] / n;
                double free = left[j] + (curvature * at[j]);
                double next = j == 0 ? free / curvature
                    : penalty == CoefficientPenalty.Ridge ? free / (curvature + strength)
                    : Math.Sign(free) * Math.Max(0, Math.Abs(free) - strength) / curvature;
                double change = next - at[j];
                if (change == 0)
                    continue;
                at[j] = next;
                CrossProduct.AddScaled(information.AsSpan(j * size, size), -change / n, left);
                moved = Math.Max(moved, Math.Abs(change));
            }
            if (moved <= 0.1 * Tolerance)
                return at;
        }
        throw new NotConvergedError("the penalised fit did not converge", "Look for columns that say the same, or take a larger strength.", MaximumSweeps);
    }

    private PenalizedFit Result(double strength, double logLikelihood, int steps)
    {
        double[] values = new double[p];
        double intercept = b[0];
        for (int j = 0; j < p; j++)
        {
            values[j] = b[j + 1] / scale[j];
            intercept -= values[j] * mean[j];
        }
        return new PenalizedFit(strength, intercept, values, logLikelihood, steps);
    }
}
