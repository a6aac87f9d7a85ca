namespace RotationStudy.Statistics.Solvers;

/// <summary>A log-likelihood with its first two derivatives.</summary>
internal interface ILogLikelihood
{
    /// <summary>Names of the parameters.</summary>
    IReadOnlyList<string> Names { get; }

    /// <summary>The log-likelihood at b; minus infinity outside the space of parameters.</summary>
    double Evaluate(ReadOnlySpan<double> b);

    /// <summary>Gradient (p values) and minus the Hessian (p squared values, row by row) where it was last evaluated.</summary>
    void Differentiate(Span<double> gradient, Span<double> information);

    /// <summary>Asked when the climb does not end in a certain maximum: throws where the maximum lies at infinity.</summary>
    /// <param name="decrement">Squared length of the last step in standard errors; NaN where the information was singular.</param>
    void RequireFinite(double decrement);
}

/// <summary>Newton's method with step halving for a concave log-likelihood.</summary>
/// <remarks>
/// Stops when the Newton decrement step'gradient, the squared length of the step in standard errors, is at or below the tolerance. A
/// step is halved until the log-likelihood does not fall. Before a maximum is returned the likelihood is asked whether it is finite.
/// </remarks>
internal sealed class NewtonAscent
{
    private const int MaximumHalvings = 40;
    private const double RoundingShare = 1e-13;

    private NewtonAscent(int size)
    {
        Values = new double[size];
        Gradient = new double[size];
        Information = new double[size * size];
    }

    /// <summary>Parameters reached.</summary>
    internal double[] Values { get; }

    /// <summary>Gradient at the parameters reached.</summary>
    internal double[] Gradient { get; }

    /// <summary>Minus the Hessian at the parameters reached.</summary>
    internal double[] Information { get; }

    /// <summary>Factor of <see cref="Information"/>.</summary>
    internal SmallCholesky Factor { get; private set; } = null!;

    /// <summary>Log-likelihood at the parameters reached.</summary>
    internal double LogLikelihood { get; private set; }

    /// <summary>Log-likelihood at the start.</summary>
    internal double StartLogLikelihood { get; private set; }

    /// <summary>Newton decrement at the start: the score statistic where the start is the maximum under the hypothesis.</summary>
    internal double StartDecrement { get; private set; }

    /// <summary>Steps made.</summary>
    internal int Iterations { get; private set; }

    /// <summary>Climbs from a start.</summary>
    /// <exception cref="RankDeficientError">The information is singular.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    internal static NewtonAscent Maximize<TLikelihood>(TLikelihood likelihood, ReadOnlySpan<double> start, double tolerance, int maximumIterations)
        where TLikelihood : ILogLikelihood
    {
        NewtonAscent at = new(start.Length);
        start.CopyTo(at.Values);
        at.LogLikelihood = at.StartLogLikelihood = likelihood.Evaluate(start);
        likelihood.Differentiate(at.Gradient, at.Information);
        double[] step = new double[start.Length];
        double[] trial = new double[start.Length];
        for (; ; at.Iterations++)
        {
            double decrement = at.NewtonStep(likelihood, step);
            if (at.Iterations == 0)
                at.StartDecrement = decrement;
            bool done = decrement <= tolerance;
            bool stuck = !done && (at.Iterations >= maximumIterations || !at.Advance(likelihood, step, trial));
            if (!done && !stuck)
                continue;
            likelihood.RequireFinite(decrement);
            if (done || decrement <= Math.Sqrt(tolerance))
                return at;
            throw new NotConvergedError(
                FormattableString.Invariant($"the fit did not converge: after {at.Iterations} iterations the squared step is still {decrement:E1} squared standard errors"),
                "Look for columns on very different scales, for sparse categories, or use fewer columns.",
                at.Iterations);
        }
    }

    private double NewtonStep<TLikelihood>(TLikelihood likelihood, double[] step)
        where TLikelihood : ILogLikelihood
    {
        try
        {
            Factor = SmallCholesky.Factor(Information, Values.Length, likelihood.Names);
        }
        catch (RankDeficientError)
        {
            if (Iterations > 0)
                likelihood.RequireFinite(double.NaN);
            throw;
        }
        Gradient.CopyTo(step, 0);
        Factor.SolveInPlace(step);
        return CrossProduct.Dot(step, Gradient);
    }

    private bool Advance<TLikelihood>(TLikelihood likelihood, double[] step, double[] trial)
        where TLikelihood : ILogLikelihood
    {
        double share = 1;
        for (int halving = 0; halving <= MaximumHalvings; halving++, share /= 2)
        {
            for (int j = 0; j < step.Length; j++)
                trial[j] = Values[j] + (share * step[j]);
            double reached = likelihood.Evaluate(trial);
            if (double.IsFinite(reached) && reached >= LogLikelihood - (RoundingShare * Math.Abs(LogLikelihood)))
            {
                LogLikelihood = reached;
                trial.CopyTo(Values, 0);
                likelihood.Differentiate(Gradient, Information);
                return true;
            }
        }
        LogLikelihood = likelihood.Evaluate(Values);
        likelihood.Differentiate(Gradient, Information);
        return false;
    }
}
