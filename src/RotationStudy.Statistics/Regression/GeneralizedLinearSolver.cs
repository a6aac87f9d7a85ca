using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Newton's method for a generalized linear model: the buffers, the iteration and its stop rule.</summary>
/// <remarks>
/// Each iteration solves (X'WX) step = X's for the score s and weights W of the family, and halves the step until the
/// log-likelihood does not fall. It stops when the Newton decrement step'(X's), the squared length of the step in
/// standard errors, is below the tolerance; convergence is quadratic for logit and log-linear models, so the last steps
/// cost two or three evaluations. Memory: three vectors of n; an iteration allocates nothing that grows with n.
/// <para>
/// Existence. For the logit, Poisson and negative binomial families |l'''| is at most -l'' per row in the linear predictor. Then (Bach 2010, Proposition 2,
/// in the norm of the information) a finite maximum exists as soon as the decrement is below a quarter of the smallest
/// weight of a row; a fit without this certificate is not returned before <see cref="SeparationDetection"/> has been asked.
/// </para>
/// </remarks>
internal sealed class GeneralizedLinearSolver<TFamily>
    where TFamily : struct, IGeneralizedLinearFamily
{
    private const int SumBlock = 1024;
    private const int MaximumHalvings = 40;

    // Beyond this the fitted probability cannot be told from 0 or 1 in double precision: ask whether the data are separated.
    private const double RemoteLinearPredictor = 30;

    // A log-likelihood that falls by less than this share of itself fell by rounding.
    private const double RoundingShare = 1e-13;

    private readonly DesignMatrix x;
    private readonly GeneralizedLinearData data;
    private readonly double[] eta;
    private readonly double[] information;
    private readonly double[] gradient;
    private TFamily family;

    internal GeneralizedLinearSolver(TFamily family, DesignMatrix x, GeneralizedLinearData data)
    {
        this.family = family;
        this.x = x;
        this.data = data;
        eta = new double[x.Rows];
        Score = new double[x.Rows];
        Weight = new double[x.Rows];
        information = new double[x.Columns * x.Columns];
        gradient = new double[x.Columns];
        Values = new double[x.Columns];
    }

    /// <summary>Coefficients reached, length p.</summary>
    internal double[] Values { get; }

    /// <summary>dl/d eta by row, case weights included.</summary>
    internal double[] Score { get; }

    /// <summary>Working weight by row, case weights included.</summary>
    internal double[] Weight { get; }

    /// <summary>Linear predictor by row, offset included.</summary>
    internal double[] LinearPredictor => eta;

    /// <summary>X'WX at the coefficients reached.</summary>
    internal double[] Information => information;

    /// <summary>X's at the coefficients reached.</summary>
    internal double[] Gradient => gradient;

    /// <summary>Log-likelihood without the family's constant.</summary>
    internal double LogLikelihood { get; private set; }

    /// <summary>Log-likelihood at the start, without the family's constant.</summary>
    internal double StartLogLikelihood { get; private set; }

    /// <summary>Newton decrement at the start; from the maximum of the model without effects this is its score statistic.</summary>
    internal double StartDecrement { get; private set; }

    /// <summary>Newton steps made.</summary>
    internal int Iterations { get; private set; }

    /// <summary>The factor of the information at the coefficients reached.</summary>
    internal SmallCholesky Factor { get; private set; } = null!;

    /// <summary>The coefficients under other case weights, set out from those of the whole data.</summary>
    internal static double[] Refit(TFamily family, DesignMatrix x, GeneralizedLinearData data, double[] weights, double[] start, GeneralizedLinearOptions options)
    {
        GeneralizedLinearSolver<TFamily> solver = new(family, x, data.Reweighted(x, weights));
        solver.Maximize(start, options);
        return solver.Values;
    }

    /// <summary>Changes the family's own parameter between fits, such as the dispersion of the negative binomial.</summary>
    internal void SetFamily(TFamily changed) => family = changed;

    /// <summary>Climbs from the start to the maximum.</summary>
    /// <exception cref="RankDeficientError">Columns of the design depend on others.</exception>
    /// <exception cref="SeparationError">The maximum lies at infinity.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    internal void Maximize(ReadOnlySpan<double> start, GeneralizedLinearOptions options)
    {
        start.CopyTo(Values);
        LogLikelihood = StartLogLikelihood = Evaluate(Values);
        Differentiate();
        double[] step = new double[x.Columns];
        double[] trial = new double[x.Columns];
        bool asked = false;
        for (Iterations = 0; ; Iterations++)
        {
            double decrement = NewtonStep(step, ref asked);
            if (Iterations == 0)
                StartDecrement = decrement;
            bool done = decrement <= options.Tolerance;
            if (!asked && (done ? !HasCertificate(decrement) : IsRemote()))
                AskForSeparation(ref asked);
            if (done)
                return;
            if (Iterations >= options.MaximumIterations)
                throw Unfinished($"after {Iterations} iterations the squared step is still {decrement:E1} squared standard errors");
            if (!Advance(step, trial))
            {
                if (!asked && !HasCertificate(decrement))
                    AskForSeparation(ref asked);
                if (decrement < Math.Sqrt(options.Tolerance))
                    return;
                throw Unfinished("the log-likelihood could not be raised along the Newton step");
            }
        }
    }

    /// <summary>Scores, weights, information and its factor once more at the coefficients reached, after a change of the family.</summary>
    internal void Refresh()
    {
        LogLikelihood = Evaluate(Values);
        Differentiate();
        Factor = SmallCholesky.Factor(information, x.Columns, x.Names);
    }

    /// <summary>Log-likelihood at coefficients b; fills the linear predictor, scores and weights.</summary>
    internal double Evaluate(ReadOnlySpan<double> b)
    {
        CrossProduct.LinearPredictor(x, b, data.Offset, eta);
        ReadOnlySpan<double> y = data.Outcome;
        ReadOnlySpan<double> caseWeights = data.Weights;
        double total = 0;
        for (int from = 0; from < y.Length; from += SumBlock)
        {
            int to = Math.Min(y.Length, from + SumBlock);
            double part = 0;
            for (int i = from; i < to; i++)
            {
                double term = family.LogLikelihood(y[i], eta[i], out double score, out double weight);
                if (!caseWeights.IsEmpty)
                {
                    term = caseWeights[i] == 0 ? 0 : term * caseWeights[i];
                    score *= caseWeights[i];
                    weight *= caseWeights[i];
                }
                part += term;
                Score[i] = score;
                Weight[i] = weight;
            }
            total += part;
        }
        return total;
    }

    /// <summary>Gradient and information from the scores and weights last evaluated.</summary>
    internal void Differentiate()
    {
        CrossProduct.WithVector(x, Score, gradient);
        CrossProduct.Weighted(x, Weight, information);
    }

    private double NewtonStep(double[] step, ref bool asked)
    {
        try
        {
            Factor = SmallCholesky.Factor(information, x.Columns, x.Names);
        }
        catch (RankDeficientError)
        {
            // At the start the weights are even, so the design is to blame; later they may have died out under separation.
            if (Iterations > 0)
                AskForSeparation(ref asked);
            throw;
        }
        gradient.CopyTo(step, 0);
        Factor.SolveInPlace(step);
        return CrossProduct.Dot(step, gradient);
    }

    private bool Advance(double[] step, double[] trial)
    {
        double share = 1;
        for (int halving = 0; halving <= MaximumHalvings; halving++, share /= 2)
        {
            for (int j = 0; j < step.Length; j++)
                trial[j] = Values[j] + (share * step[j]);
            double reached = Evaluate(trial);
            if (reached >= LogLikelihood - (RoundingShare * Math.Abs(LogLikelihood)) && double.IsFinite(reached))
            {
                LogLikelihood = reached;
                trial.CopyTo(Values, 0);
                Differentiate();
                return true;
            }
        }
        LogLikelihood = Evaluate(Values);
        Differentiate();
        return false;
    }

    private bool HasCertificate(double decrement)
    {
        double smallest = double.PositiveInfinity;
        ReadOnlySpan<double> caseWeights = data.Weights;
        for (int i = 0; i < Weight.Length; i++)
        {
            if (caseWeights.IsEmpty || caseWeights[i] > 0)
                smallest = Math.Min(smallest, Weight[i]);
        }
        return 4 * Math.Abs(decrement) < smallest;
    }

    private bool IsRemote()
    {
        for (int i = 0; i < eta.Length; i++)
        {
            double bare = data.Offset.IsEmpty ? eta[i] : eta[i] - data.Offset[i];
            if (bare < -RemoteLinearPredictor || (bare > RemoteLinearPredictor && data.Kind == OutcomeKind.Binary))
                return true;
        }
        return false;
    }

    private void AskForSeparation(ref bool asked)
    {
        asked = true;
        IReadOnlyList<string> columns = SeparationDetection.SeparatedColumns(x, data);
        if (columns.Count > 0)
            throw new SeparationError(columns, data.IsBinary ? null : "Rows marked off by these columns have no event: join the category with another, or give its rate with an exact interval.");
    }

    private NotConvergedError Unfinished(string what)
        => new(
            FormattableString.Invariant($"the fit did not converge: {what}"),
            "Look for columns on very different scales, for sparse categories, or use fewer columns.",
            Iterations);
}
