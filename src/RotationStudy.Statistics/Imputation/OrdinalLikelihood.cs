using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Imputation;

/// <summary>The penalised proportional-odds likelihood of observed rows and pseudo-rows, maximised by Fisher scoring with halving.</summary>
internal sealed class OrdinalLikelihood
{
    private const int MaximumIterations = 60;
    private const double StopDecrement = 1e-12;
    private const double SmallestProbability = 1e-300;

    private readonly double[] x;
    private readonly int[] category;
    private readonly double[] weight;
    private readonly int rows;
    private readonly int slopes;
    private readonly int thresholds;
    private readonly string[] names;
    private readonly double[] total;
    private readonly double[] predictor;
    private readonly double[] residual;
    private readonly double[][] margins;

    private OrdinalLikelihood(int rows, int slopes, int thresholds)
    {
        this.rows = rows;
        this.slopes = slopes;
        this.thresholds = thresholds;
        x = new double[rows * slopes];
        category = new int[rows];
        weight = new double[rows];
        total = new double[rows];
        predictor = new double[rows];
        residual = new double[rows];
        margins = [.. Enumerable.Range(0, thresholds).Select(_ => new double[rows])];
        names = [.. Enumerable.Range(0, thresholds + slopes).Select(k => k < thresholds ? $"threshold {k}" : $"slope {k - thresholds}")];
    }

    /// <summary>Factor of the information at the maximum, row by row.</summary>
    internal double[] LowerFactor { get; private set; } = [];

    internal static double Logistic(double v) => 1 / (1 + Math.Exp(-v));

    internal static OrdinalLikelihood From(ConditionalDesign design, double[] categories)
    {
        int n = design.ObservedRows.Length;
        int slopes = design.Columns - 1;
        int k = categories.Length;
        int pseudo = 2 * slopes * k;
        OrdinalLikelihood result = new(n + pseudo, slopes, k - 1);
        for (int i = 0; i < n; i++)
            result.category[i] = Array.BinarySearch(categories, design.Outcome[i]);
        result.weight.AsSpan(0, n).Fill(1);
        result.weight.AsSpan(n).Fill((slopes + k - 1.0) / Math.Max(1, pseudo));
        for (int j = 0; j < slopes; j++)
        {
            design.Observed(j + 1).CopyTo(result.x.AsSpan(j * result.rows));
            double sd = Math.Sqrt(CrossProduct.Dot(design.Observed(j + 1), design.Observed(j + 1)) / (n - 1));
            for (int c = 0; c < k; c++)
            {
                int row = n + (2 * ((j * k) + c));
                result.category[row] = result.category[row + 1] = c;
                result.x[(j * result.rows) + row] = sd;
                result.x[(j * result.rows) + row + 1] = -sd;
            }
        }
        return result;
    }

    internal double[] Maximize()
    {
        int p = thresholds + slopes;
        double[] parameters = Start();
        double[] score = new double[p];
        double[] information = new double[p * p];
        double current = Evaluate(parameters, score, information);
        for (int iteration = 0; iteration < MaximumIterations; iteration++)
        {
            SmallCholesky factor = SmallCholesky.Factor(information, p, names);
            double[] step = factor.Solve(score);
            double decrement = CrossProduct.Dot(step, score);
            if (decrement < StopDecrement)
            {
                LowerFactor = factor.LowerFactor();
                return parameters;
            }
            double[] next = new double[p];
            double reached = double.NegativeInfinity;
            for (double size = 1; size > 1e-6; size /= 2)
            {
                for (int k = 0; k < p; k++)
                    next[k] = parameters[k] + (size * step[k]);
                reached = Evaluate(next, score, information);
                if (reached >= current - 1e-9)
                    break;
            }
            parameters = next;
            current = reached;
        }
        throw new NotConvergedError("the ordinal imputation model was not reached", "Join rare categories, or name fewer predictors.", MaximumIterations);
    }

    private double[] Start()
    {
        double[] parameters = new double[thresholds + slopes];
        double[] share = new double[thresholds + 1];
        double all = weight.Sum();
        for (int i = 0; i < rows; i++)
            share[category[i]] += weight[i] / all;
        double below = 0;
        for (int t = 0; t < thresholds; t++)
        {
            below += share[t];
            parameters[t] = Math.Log(below / (1 - below));
        }
        return parameters;
    }

    /// <summary>Log-likelihood with score and expected information; minus infinity where thresholds are out of order.</summary>
    private double Evaluate(double[] parameters, double[] score, double[] information)
    {
        for (int t = 1; t < thresholds; t++)
        {
            if (!(parameters[t] > parameters[t - 1]))
                return double.NegativeInfinity;
        }
        predictor.AsSpan().Clear();
        for (int j = 0; j < slopes; j++)
            CrossProduct.AddScaled(x.AsSpan(j * rows, rows), parameters[thresholds + j], predictor);
        Array.Clear(score);
        Array.Clear(information);
        double logLikelihood = 0;
        int p = thresholds + slopes;
        for (int i = 0; i < rows; i++)
            logLikelihood += Row(i, parameters, score, information, p);
        for (int j = 0; j < slopes; j++)
        {
            ReadOnlySpan<double> column = x.AsSpan(j * rows, rows);
            score[thresholds + j] = -CrossProduct.Dot(column, residual);
            for (int t = 0; t < thresholds; t++)
                information[((thresholds + j) * p) + t] = -CrossProduct.Dot(column, margins[t]);
        }
        double[] block = new double[slopes * slopes];
        CrossProduct.Weighted(x, rows, slopes, total, block);
        for (int a = 0; a < slopes; a++)
            block.AsSpan(a * slopes, slopes).CopyTo(information.AsSpan(((thresholds + a) * p) + thresholds));
        return logLikelihood;
    }

    /// <summary>One row's part: the thresholds' score and information at once, its weights for the slopes into the row buffers.</summary>
    private double Row(int i, double[] parameters, double[] score, double[] information, int p)
    {
        double w = weight[i];
        double belowF = 0;
        double belowDensity = 0;
        double logProbability = 0;
        residual[i] = 0;
        total[i] = 0;
        for (int t = 0; t < thresholds; t++)
            margins[t][i] = 0;
        for (int c = 0; c <= thresholds; c++)
        {
            double f = c == thresholds ? 1 : Logistic(parameters[c] - predictor[i]);
            double density = c == thresholds ? 0 : f * (1 - f);
            double probability = Math.Max(SmallestProbability, f - belowF);
            double up = density / probability;
            double down = belowDensity / probability;
            if (category[i] == c)
            {
                logProbability = w * Math.Log(probability);
                residual[i] = w * (up - down);
                if (c < thresholds)
                    score[c] += w * up;
                if (c > 0)
                    score[c - 1] -= w * down;
            }
            double difference = density - belowDensity;
            total[i] += w * difference * difference / probability;
            if (c < thresholds)
            {
                margins[c][i] += w * up * difference;
                information[(c * p) + c] += w * up * density;
            }
            if (c > 0)
            {
                margins[c - 1][i] -= w * down * difference;
                information[((c - 1) * p) + c - 1] += w * down * belowDensity;
            }
            if (c > 0 && c < thresholds)
                information[(c * p) + c - 1] -= w * up * belowDensity;
            belowF = f;
            belowDensity = density;
        }
        return logProbability;
    }
}
