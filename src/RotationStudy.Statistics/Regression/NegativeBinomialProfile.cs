using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>The likelihood of the negative binomial dispersion with the coefficients at their best for it.</summary>
/// <remarks>
/// With l the log-likelihood, t = log alpha, I the observed information of the coefficients and c the mixed derivatives, the profile has slope
/// alpha l' and curvature alpha^2 (l'' + c'I^-1 c) + alpha l', primes being derivatives in alpha. A Newton step is limited to 2 on the log scale
/// and halved until the profile does not fall.
/// </remarks>
internal sealed class NegativeBinomialProfile
{
    private const double LongestStep = 2;
    private const double LargestLogAlpha = 25;
    private const double RoundingShare = 1e-13;

    private readonly DesignMatrix x;
    private readonly GeneralizedLinearData data;
    private readonly GeneralizedLinearOptions options;
    private readonly NegativeBinomialDispersion dispersion;
    private readonly GeneralizedLinearSolver<NegativeBinomialFamily> solver;
    private readonly double[] cross;
    private readonly double[] mixed;

    internal NegativeBinomialProfile(DesignMatrix x, GeneralizedLinearData data, GeneralizedLinearOptions options)
    {
        this.x = x;
        this.data = data;
        this.options = options;
        dispersion = new NegativeBinomialDispersion(data);
        solver = new GeneralizedLinearSolver<NegativeBinomialFamily>(default, x, data);
        cross = new double[x.Rows];
        mixed = new double[x.Columns];
    }

    /// <summary>The dispersion reached.</summary>
    internal double Alpha { get; private set; }

    /// <summary>Log-likelihood at the dispersion reached, all constants included.</summary>
    internal double LogLikelihood { get; private set; }

    /// <summary>Newton steps made, those for the coefficients included.</summary>
    internal int Iterations { get; private set; }

    /// <summary>Minus the curvature of the profile in log alpha.</summary>
    internal double Curvature { get; private set; }

    /// <summary>
    /// The dispersion that would make the squared residuals of a Poisson fit come out right; its sign is that of the score at alpha = 0.
    /// </summary>
    internal static double MomentAlpha(ReadOnlySpan<double> eta, GeneralizedLinearData data)
    {
        double excess = 0;
        double scale = 0;
        for (int i = 0; i < eta.Length; i++)
        {
            double weight = data.Weights.IsEmpty ? 1 : data.Weights[i];
            double m = Math.Exp(eta[i]);
            double y = data.Outcome[i];
            excess += weight * (((y - m) * (y - m)) - y);
            scale += weight * m * m;
        }
        return excess / scale;
    }

    /// <summary>Log-likelihood of the model without effects, at its own dispersion, and the score statistic of the effects from there.</summary>
    /// <exception cref="InvalidInputError">The design has no intercept.</exception>
    internal static (double LogLikelihood, double Score) Null(DesignMatrix x, GeneralizedLinearData data, GeneralizedLinearOptions options)
    {
        int intercept = x.IndexOf(DesignMatrix.InterceptName);
        if (intercept < 0)
            throw new InvalidInputError("a design without intercept has no model without effects", "Compare with a smaller model instead.", column: DesignMatrix.InterceptName);
        double[] start = GeneralizedLinearStart.LogLink(x, data);
        DesignMatrix alone = DesignMatrix.InterceptOnly(x.Rows);
        double rate = start[intercept];
        GeneralizedLinearSolver<PoissonFamily> poisson = new(default, alone, data);
        double poissonLogLikelihood = poisson.Evaluate([rate]);
        double moment = MomentAlpha(poisson.LinearPredictor, data);
        if (!(moment > 0))
            return (poissonLogLikelihood + data.LogLikelihoodConstant, Score(new GeneralizedLinearSolver<PoissonFamily>(default, x, data), x, start));
        NegativeBinomialProfile profile = new(alone, data, options);
        profile.Maximize([rate], moment);
        NegativeBinomialFamily family = new(profile.Alpha, expected: true);
        double[] from = GeneralizedLinearStart.InterceptOf(x, profile.solver.Values[0]);
        return (profile.LogLikelihood, Score(new GeneralizedLinearSolver<NegativeBinomialFamily>(family, x, data), x, from));
    }

    /// <summary>Finds the dispersion and the coefficients.</summary>
    internal void Maximize(ReadOnlySpan<double> start, double alpha)
    {
        double reached = Reach(start, alpha);
        for (int outer = 0; outer <= options.MaximumIterations; outer++)
        {
            (double slope, double curvature) = Differentiate();
            double step = curvature > 0 ? slope / curvature : Math.CopySign(1, slope);
            if (curvature > 0 && slope * step <= options.Tolerance)
            {
                Curvature = curvature;
                return;
            }
            step = Math.Clamp(step, -LongestStep, LongestStep);
            double from = Math.Log(Alpha);
            double before = reached;
            double[] values = [.. solver.Values];
            do
            {
                reached = Reach(values, Math.Exp(from + step));
                step /= 2;
            }
            while (reached < before - (RoundingShare * Math.Abs(before)));
            if (Math.Log(Alpha) > LargestLogAlpha)
                break;
        }
        throw new NotConvergedError(
            FormattableString.Invariant($"the dispersion did not settle (alpha = {Alpha:G3} after {Iterations} steps)"),
            "Use the Poisson model with cluster-robust variance.",
            Iterations);
    }

    /// <summary>Inverse of the joint observed information of the coefficients and log alpha, (p + 1) squared values.</summary>
    internal double[] JointCovariance()
    {
        // Block inverse: the profile curvature is the Schur complement of the coefficients.
        int p = x.Columns;
        double[] inverse = solver.Factor.Inverse();
        double[] pull = solver.Factor.Solve(mixed);
        double[] joint = new double[(p + 1) * (p + 1)];
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                joint[(i * (p + 1)) + j] = inverse[(i * p) + j] + (Alpha * Alpha * pull[i] * pull[j] / Curvature);
            joint[(i * (p + 1)) + p] = joint[(p * (p + 1)) + i] = Alpha * pull[i] / Curvature;
        }
        joint[^1] = 1 / Curvature;
        return joint;
    }

    /// <summary>The solver with scores and weights at the expected information.</summary>
    internal GeneralizedLinearSolver<NegativeBinomialFamily> AtExpectedInformation()
    {
        solver.SetFamily(new NegativeBinomialFamily(Alpha, expected: true));
        solver.Refresh();
        return solver;
    }

    private static double Score<TFamily>(GeneralizedLinearSolver<TFamily> solver, DesignMatrix x, double[] start)
        where TFamily : struct, IGeneralizedLinearFamily
    {
        solver.Evaluate(start);
        solver.Differentiate();
        double[] solved = SmallCholesky.Factor(solver.Information, x.Columns, x.Names).Solve(solver.Gradient);
        return CrossProduct.Dot(solved, solver.Gradient);
    }

    private double Reach(ReadOnlySpan<double> start, double alpha)
    {
        Alpha = alpha;
        solver.SetFamily(new NegativeBinomialFamily(alpha, expected: false));
        solver.Maximize(start, options);
        Iterations += solver.Iterations + 1;
        LogLikelihood = solver.LogLikelihood + dispersion.LogLikelihoodPart(alpha) + data.LogLikelihoodConstant;
        return LogLikelihood;
    }

    private (double Slope, double Curvature) Differentiate()
    {
        (double first, double second) = dispersion.Derivatives(Alpha, solver.LinearPredictor, cross);
        CrossProduct.WithVector(x, cross, mixed);
        double[] pull = solver.Factor.Solve(mixed);
        double slope = Alpha * first;
        return (slope, -(Alpha * Alpha * (second + CrossProduct.Dot(pull, mixed))) - slope);
    }
}
