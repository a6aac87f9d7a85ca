using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Firth's penalised log-likelihood of a logistic regression, maximised over some or all coefficients.</summary>
internal sealed class FirthLikelihood
{
    private const int MaximumHalvings = 40;
    private const double RoundingShare = 1e-13;

    // Fisher scoring converges linearly under the penalty: more and shorter steps than Newton's.
    private const int StepsPerNewtonStep = 20;

    // A step that moves a linear predictor by more than this leaves the region where the quadratic is worth anything.
    private const double LongestStep = 5;

    private readonly GeneralizedLinearOptions options;
    private readonly GeneralizedLinearSolver<LogisticFamily> rows;
    private readonly double[] leverage;
    private readonly double[] whitened;
    private readonly double[] gradient;

    internal FirthLikelihood(DesignMatrix x, GeneralizedLinearData data, GeneralizedLinearOptions options)
    {
        Design = x;
        this.options = options;
        rows = new GeneralizedLinearSolver<LogisticFamily>(default, x, data);
        Values = new double[x.Columns];
        leverage = new double[x.Rows];
        whitened = new double[x.Rows];
        gradient = new double[x.Columns];
    }

    /// <summary>The design.</summary>
    internal DesignMatrix Design { get; }

    /// <summary>Coefficients reached.</summary>
    internal double[] Values { get; }

    /// <summary>Working weights m(1 - m) by row, case weights included.</summary>
    internal double[] Weight => rows.Weight;

    /// <summary>Modified score by row, case weights included.</summary>
    internal double[] Score => rows.Score;

    /// <summary>Log-likelihood without the penalty.</summary>
    internal double LogLikelihood { get; private set; }

    /// <summary>Log-likelihood with the penalty.</summary>
    internal double PenalizedLogLikelihood { get; private set; }

    /// <summary>Factor of the information of all coefficients.</summary>
    internal SmallCholesky Factor { get; private set; } = null!;

    /// <summary>Iterations made.</summary>
    internal int Iterations { get; private set; }

    /// <summary>Climbs from the start with some coefficients held at their starting values.</summary>
    /// <exception cref="RankDeficientError">Columns of the design depend on others.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    internal void Maximize(ReadOnlySpan<double> start, ReadOnlySpan<int> fixedColumns)
    {
        int p = Values.Length;
        int[] free = FreeColumns(p, fixedColumns);
        double[] step = new double[p];
        double[] trial = new double[p];
        start.CopyTo(Values);
        Evaluate(Values);
        for (Iterations = 0; ; Iterations++)
        {
            ModifyScore();
            double decrement = Step(free, step);
            if (decrement <= options.Tolerance)
                return;
            if (Iterations >= StepsPerNewtonStep * options.MaximumIterations)
                throw Unfinished(FormattableString.Invariant($"after {Iterations} iterations the squared step is still {decrement:E1} squared standard errors"));
            if (!Advance(step, trial))
            {
                if (decrement <= Math.Sqrt(options.Tolerance))
                    return;
                throw Unfinished("the penalised log-likelihood could not be raised along the step");
            }
        }
    }

    /// <summary>Fitted probabilities at the coefficients reached.</summary>
    internal double[] FittedMeans()
    {
        double[] means = new double[rows.LinearPredictor.Length];
        for (int i = 0; i < means.Length; i++)
            means[i] = default(LogisticFamily).Mean(rows.LinearPredictor[i]);
        return means;
    }

    private static int[] FreeColumns(int p, ReadOnlySpan<int> held)
    {
        List<int> free = [];
        for (int j = 0; j < p; j++)
        {
            if (!held.Contains(j))
                free.Add(j);
        }
        return [.. free];
    }

    private void Evaluate(ReadOnlySpan<double> b)
    {
        LogLikelihood = rows.Evaluate(b);
        CrossProduct.Weighted(Design, rows.Weight, rows.Information);
        Factor = SmallCholesky.Factor(rows.Information, Design.Columns, Design.Names);
        PenalizedLogLikelihood = LogLikelihood + (0.5 * Factor.LogDeterminant);
    }

    // Adds h_i (1/2 - m_i) to the score of each row, h_i = w_i x_i' (X'WX)^-1 x_i.
    private void ModifyScore()
    {
        int n = Design.Rows;
        int p = Design.Columns;
        double[] root = SmallCholesky.Factor(Factor.Inverse(), p, Design.Names).LowerFactor();
        Array.Clear(leverage);
        for (int k = 0; k < p; k++)
        {
            Array.Clear(whitened);
            for (int j = k; j < p; j++)
                CrossProduct.AddScaled(Design.Column(j), root[(j * p) + k], whitened);
            for (int i = 0; i < n; i++)
                leverage[i] += whitened[i] * whitened[i];
        }
        for (int i = 0; i < n; i++)
            rows.Score[i] += leverage[i] * rows.Weight[i] * (0.5 - default(LogisticFamily).Mean(rows.LinearPredictor[i]));
        CrossProduct.WithVector(Design, rows.Score, gradient);
    }

    private double Step(int[] free, double[] step)
    {
        int q = free.Length;
        Array.Clear(step);
        if (q == 0)
            return 0;
        double[] information = new double[q * q];
        double[] solved = new double[q];
        for (int i = 0; i < q; i++)
        {
            solved[i] = gradient[free[i]];
            for (int j = 0; j < q; j++)
                information[(i * q) + j] = rows.Information[(free[i] * step.Length) + free[j]];
        }
        SmallCholesky.Factor(information, q, [.. free.Select(j => Design.Names[j])]).SolveInPlace(solved);
        double decrement = 0;
        for (int i = 0; i < q; i++)
        {
            decrement += solved[i] * gradient[free[i]];
            step[free[i]] = solved[i];
        }
        return decrement;
    }

    private bool Advance(double[] step, double[] trial)
    {
        double before = PenalizedLogLikelihood;
        double share = ShareWithin(step);
        for (int halving = 0; halving <= MaximumHalvings; halving++, share /= 2)
        {
            for (int j = 0; j < step.Length; j++)
                trial[j] = Values[j] + (share * step[j]);
            Evaluate(trial);
            if (PenalizedLogLikelihood >= before - (RoundingShare * Math.Abs(before)))
            {
                trial.CopyTo(Values, 0);
                return true;
            }
        }
        Evaluate(Values);
        ModifyScore();
        return false;
    }

    private double ShareWithin(double[] step)
    {
        CrossProduct.LinearPredictor(Design, step, [], whitened);
        double longest = 0;
        foreach (double move in whitened)
            longest = Math.Max(longest, Math.Abs(move));
        return longest > LongestStep ? LongestStep / longest : 1;
    }

    private NotConvergedError Unfinished(string what)
        => new($"the penalised fit did not converge: {what}", "Look for columns on very different scales, or use fewer columns.", Iterations);
}
