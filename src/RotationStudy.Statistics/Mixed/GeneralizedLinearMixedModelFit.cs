using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Mixed;

/// <summary>A fitted logistic or Poisson model with a random intercept.</summary>
public sealed class GeneralizedLinearMixedModelFit
{
    private const double BoundaryTolerance = 1e-4;

    private readonly QuadratureLikelihood likelihood;
    private readonly SmoothMinimizer.Minimum found;
    private readonly double[] modes;
    private readonly double[] spreads;

    internal GeneralizedLinearMixedModelFit(
        DesignMatrix x,
        OrthonormalBasis basis,
        QuadratureLikelihood likelihood,
        SmoothMinimizer.Minimum found,
        Clusters groups,
        MixedOutcome kind,
        GeneralizedLinearMixedModelOptions options,
        double constant)
    {
        this.likelihood = likelihood;
        this.found = found;
        Kind = kind;
        Options = options;
        Rows = x.Rows;
        Groups = groups.Count;
        Iterations = found.Iterations;
        StandardDeviation = Math.Abs(found.X[^1]);
        IsOnBoundary = StandardDeviation < BoundaryTolerance;
        LogLikelihood = (-0.5 * likelihood.Deviance(found.X, new double[found.X.Length])) + constant;
        modes = likelihood.Modes.ToArray();
        spreads = likelihood.Spreads.ToArray();
        Coefficients = MakeCoefficients(x, basis);
    }

    /// <summary>Fixed effects: log odds ratios or log rate ratios within a group.</summary>
    public Coefficients Coefficients { get; }

    /// <summary>Standard deviation s of the random intercept, on the scale of the linear predictor.</summary>
    public double StandardDeviation { get; }

    /// <summary>Whether the best variance is zero.</summary>
    public bool IsOnBoundary { get; }

    /// <summary>Log-likelihood, with all constants.</summary>
    public double LogLikelihood { get; }

    /// <summary>Fixed effects and the variance.</summary>
    public int Parameters => Coefficients.Values.Count + 1;

    /// <summary>Akaike's criterion.</summary>
    public double Aic => (-2 * LogLikelihood) + (2 * Parameters);

    /// <summary>Schwarz's criterion with log of the number of rows.</summary>
    public double Bic => (-2 * LogLikelihood) + (Parameters * Math.Log(Rows));

    /// <summary>Kind of outcome.</summary>
    public MixedOutcome Kind { get; }

    /// <summary>The choices made.</summary>
    public GeneralizedLinearMixedModelOptions Options { get; }

    /// <summary>Rows used, n.</summary>
    public int Rows { get; }

    /// <summary>Number of groups.</summary>
    public int Groups { get; }

    /// <summary>Steps of the optimiser.</summary>
    public int Iterations { get; }

    /// <summary>Share of the latent variance that lies between groups, s2 / (s2 + pi2/3), for binary outcomes (Snijders &amp; Bosker 1999).</summary>
    /// <exception cref="InvalidInputError">The outcome is a count.</exception>
    public double IntraclassCorrelation => Kind == MixedOutcome.Binary
        ? StandardDeviation * StandardDeviation / ((StandardDeviation * StandardDeviation) + (Math.PI * Math.PI / 3))
        : throw new InvalidInputError("a count has no latent scale", "Give the standard deviation of the random intercept.");

    /// <summary>
    /// Median odds ratio (rate ratio) between a higher and a lower of two groups drawn at random: exp(sqrt(2) z(0.75) s)
    /// (Larsen &amp; Merlo 2005, Am J Epidemiol 161:81-88).
    /// </summary>
    public double MedianRatio => Math.Exp(Math.Sqrt(2) * StandardNormal.Quantile(0.75) * StandardDeviation);

    /// <summary>The modes of the random intercepts with their conditional standard deviation, one per group.</summary>
    public IReadOnlyList<RandomEffect> RandomEffects()
    {
        List<RandomEffect> effects = new(modes.Length);
        for (int g = 0; g < modes.Length; g++)
            effects.Add(new RandomEffect(g, DesignMatrix.InterceptName, found.X[^1] * modes[g], StandardDeviation * spreads[g]));
        return effects;
    }

    /// <summary>
    /// Likelihood-ratio test that s is zero; the p value is half that of chi-square on one degree of freedom, zero lying on
    /// the boundary (Self &amp; Liang 1987, J Am Stat Assoc 82:605-610).
    /// </summary>
    public TestResult VarianceTest()
    {
        double statistic = Math.Max(0, DevianceAt(0) - found.Value);
        return new TestResult("likelihood-ratio chi-square, zero on the boundary", statistic, 1, double.PositiveInfinity, statistic > 0 ? 0.5 * ChiSquared.UpperTail(statistic, 1) : 1);
    }

    /// <summary>Profile-likelihood interval of the standard deviation s; its lower bound may be zero.</summary>
    public ConfidenceInterval StandardDeviationInterval(double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        return ProfileInterval.Find(DevianceAt, StandardDeviation, found.Value, Math.Max(0.1, StandardDeviation / 2), level);
    }

    // The deviance at a fixed s, best over the coefficients.
    private double DevianceAt(double deviation)
    {
        int p = found.X.Length - 1;
        double[] full = new double[p + 1];
        double[] slope = new double[p + 1];
        full[p] = deviation;
        return SmoothMinimizer.Minimize(
            (at, gradient) =>
            {
                at.CopyTo(full);
                double value = likelihood.Deviance(full, slope);
                slope.AsSpan(0, p).CopyTo(gradient);
                return value;
            },
            found.X[..p],
            "the profile of the random intercept").Value;
    }

    private Coefficients MakeCoefficients(DesignMatrix x, OrthonormalBasis basis)
    {
        int p = x.Columns;
        int used = IsOnBoundary ? p : p + 1;
        double[] information = new double[used * used];
        string[] names = [.. x.Names, "s"];
        for (int i = 0; i < used; i++)
        {
            for (int j = 0; j < used; j++)
                information[(i * used) + j] = 0.5 * found.Hessian[(i * (p + 1)) + j];
        }
        double[] inverse = SmallCholesky.Factor(information, used, names).Inverse();
        double root = Math.Sqrt(x.Rows);
        double[] values = basis.ToOriginal([.. found.X[..p].Select(b => b * root)]);
        double[] covariance = new double[p * p];
        double[][] half = new double[p][];
        for (int i = 0; i < p; i++)
            half[i] = basis.ToOriginal([.. Enumerable.Range(0, p).Select(j => x.Rows * inverse[(i * used) + j])]);
        for (int i = 0; i < p; i++)
            basis.ToOriginal([.. half.Select(row => row[i])]).CopyTo(covariance, i * p);
        return new Coefficients(values, new SymmetricMatrix(x.Names, covariance), "observed information");
    }
}
