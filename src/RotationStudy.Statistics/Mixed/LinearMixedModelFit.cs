using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Mixed;

/// <summary>A fitted linear mixed model.</summary>
public sealed class LinearMixedModelFit
{
    /// <summary>A diagonal entry of the relative covariance factor below this is a variance on the boundary.</summary>
    internal const double BoundaryTolerance = 1e-4;

    private readonly VarianceInformation information;
    private readonly KenwardRoger? kenwardRoger;
    private readonly Lazy<MixedPredictor> predictor;

    internal LinearMixedModelFit(
        DesignMatrix x,
        IReadOnlyList<double> outcome,
        ProfiledDeviance deviance,
        ProfiledDeviance.Point at,
        VarianceInformation information,
        LinearMixedModelOptions options,
        int iterations)
    {
        this.information = information;
        Deviance = deviance;
        Point = at;
        Design = x;
        Outcome = outcome;
        Options = options;
        Iterations = iterations;
        ResidualVariance = information.Variance;
        LogLikelihood = -0.5 * deviance.Profiled(at);
        Parameters = x.Columns + deviance.Covariance.Count + 1;
        VarianceComponents = Components();
        BoundaryTerms = FindBoundaryTerms();
        kenwardRoger = options.DegreesOfFreedom == FixedEffectDegreesOfFreedom.KenwardRoger ? new KenwardRoger(deviance, at, ResidualVariance) : null;
        Coefficients = MakeCoefficients();
        predictor = new Lazy<MixedPredictor>(() => new MixedPredictor(this));
    }

    /// <summary>Fixed effects with covariance and degrees of freedom.</summary>
    public Coefficients Coefficients { get; }

    /// <summary>Variances and covariances of every random term, in the order of the terms; the residual variance last.</summary>
    public IReadOnlyList<VarianceComponent> VarianceComponents { get; }

    /// <summary>Residual variance, in squared units of the outcome.</summary>
    public double ResidualVariance { get; }

    /// <summary>Log-likelihood, full or restricted as fitted.</summary>
    public double LogLikelihood { get; }

    /// <summary>Fixed effects, variances and covariances that were estimated.</summary>
    public int Parameters { get; }

    /// <summary>Akaike's criterion: -2 log L + 2 (number of parameters).</summary>
    public double Aic => (-2 * LogLikelihood) + (2 * Parameters);

    /// <summary>Schwarz's criterion with log of the number of rows.</summary>
    public double Bic => (-2 * LogLikelihood) + (Parameters * Math.Log(Rows));

    /// <summary>Rows used, n.</summary>
    public int Rows => Design.Rows;

    /// <summary>The random terms, with their groups.</summary>
    public IReadOnlyList<RandomTerm> Terms => Deviance.Terms;

    /// <summary>The choices made.</summary>
    public LinearMixedModelOptions Options { get; }

    /// <summary>Steps of the optimiser.</summary>
    public int Iterations { get; }

    /// <summary>Names of the terms whose covariance is on its boundary: a variance of zero or a correlation of one.</summary>
    public IReadOnlyList<string> BoundaryTerms { get; }

    /// <summary>Fitted values with the predicted random effects, n values.</summary>
    public IReadOnlyList<double> Fitted => predictor.Value.Fitted;

    /// <summary>Outcome minus fitted values, n values.</summary>
    public IReadOnlyList<double> Residuals => predictor.Value.Residuals;

    internal ProfiledDeviance Deviance { get; }

    internal ProfiledDeviance.Point Point { get; }

    internal DesignMatrix Design { get; }

    internal IReadOnlyList<double> Outcome { get; }

    /// <summary>Predicted effects of every group of a term, with their conditional standard deviation.</summary>
    /// <exception cref="InvalidInputError">No term has that name.</exception>
    public IReadOnlyList<RandomEffect> RandomEffects(string term) => predictor.Value.Effects(IndexOfTerm(term));

    /// <summary>The variance of one random effect, in squared units of the outcome over those of the column.</summary>
    /// <exception cref="InvalidInputError">No such term or column.</exception>
    public double Variance(string term, string column = DesignMatrix.InterceptName)
        => VarianceComponents.FirstOrDefault(c => c.Term == term && c.Column == column && c.OtherColumn is null)?.Value
            ?? throw new InvalidInputError($"no random term '{term}' has a column '{column}'", $"The terms are {string.Join(", ", Terms.Select(t => t.Name))}.", column: column);

    /// <summary>
    /// Intraclass correlation: that of two rows which share the groups of the named terms and no others, the named terms'
    /// share of the variance of a row. All terms of the model must be random intercepts.
    /// </summary>
    /// <exception cref="InvalidInputError">A term has slopes, so that the correlation depends on the row; or no such term.</exception>
    public double IntraclassCorrelation(params IReadOnlyList<string> sharedTerms)
    {
        foreach (RandomTerm term in Terms)
        {
            if (term.Columns is not null && (term.Size > 1 || term.ColumnName(0) != DesignMatrix.InterceptName))
                throw new InvalidInputError($"the random term '{term.Name}' has slopes, so the correlation depends on the rows", "Fit random intercepts only, or give the variances.", column: term.Name);
        }
        double shared = sharedTerms.Sum(t => Variance(t));
        return shared / (Terms.Sum(t => Variance(t.Name)) + ResidualVariance);
    }

    /// <summary>A linear combination of the fixed effects with its own degrees of freedom.</summary>
    /// <param name="name">What it is called.</param>
    /// <param name="weights">Weights of the fixed effects, length p.</param>
    /// <param name="level">Level of confidence.</param>
    public Estimate Contrast(string name, IReadOnlyList<double> weights, double level = ConfidenceInterval.DefaultLevel)
    {
        double[] w = [.. weights];
        Estimate combined = Coefficients.Combination(name, w, level);
        return Statistics.Estimate.Wald(name, combined.Value, combined.StandardError, DegreesOfFreedom(w), level);
    }

    /// <summary>
    /// Likelihood-ratio test of this model within a larger one, chi-square on the difference of the numbers of parameters.
    /// </summary>
    /// <remarks>
    /// Fixed effects are compared by the full likelihood only; restricted fits must have the same fixed columns. For a
    /// variance the p value is too large, since zero lies on the boundary (Stram &amp; Lee 1994, Biometrics 50:1171-1177): for one
    /// extra variance half of it is right.
    /// </remarks>
    /// <exception cref="InvalidInputError">Different rows, criteria, or fixed columns under the restricted likelihood; a larger model that is not larger.</exception>
    public TestResult LikelihoodRatioTest(LinearMixedModelFit larger)
    {
        if (Options.Criterion != larger.Options.Criterion)
            throw new InvalidInputError("one model has a full and the other a restricted likelihood", "Fit both by the same criterion.");
        if (Rows != larger.Rows || !Outcome.SequenceEqual(larger.Outcome))
            throw new InvalidInputError("the two models were fitted to different rows", "Leave the same incomplete rows out of both.");
        if (Options.Criterion == LikelihoodCriterion.Restricted && !(Design.Names.SequenceEqual(larger.Design.Names) && Design.Values.SequenceEqual(larger.Design.Values)))
            throw new InvalidInputError("restricted likelihoods of different fixed columns cannot be compared", "Fit both models by the full likelihood.");
        int df = larger.Parameters - Parameters;
        if (df <= 0)
            throw new InvalidInputError($"the larger model has {larger.Parameters} parameters, this one {Parameters}", "Call the test on the smaller model.");
        double statistic = Math.Max(0, 2 * (larger.LogLikelihood - LogLikelihood));
        return new TestResult("likelihood-ratio chi-square", statistic, df, double.PositiveInfinity, ChiSquared.UpperTail(statistic, df));
    }

    /// <summary>F test that several linear combinations of the fixed effects are all zero.</summary>
    /// <remarks>
    /// Denominator degrees of freedom after Satterthwaite by the principal contrasts of Fai &amp; Cornelius (1996, J Stat Comput
    /// Simul 54:363-378), or Kenward and Roger's scaled F.
    /// </remarks>
    /// <param name="name">What the test is called.</param>
    /// <param name="contrasts">One row of p weights per combination.</param>
    /// <exception cref="RankDeficientError">A combination follows from the others.</exception>
    public TestResult ContrastTest(string name, IReadOnlyList<IReadOnlyList<double>> contrasts)
        => FixedEffectTest.Run(this, name, [.. contrasts.Select(c => c.ToArray())]);

    /// <summary>F test that the named fixed effects are all zero.</summary>
    /// <exception cref="InvalidInputError">No coefficient has that name.</exception>
    public TestResult EffectTest(params IReadOnlyList<string> names)
        => ContrastTest(string.Join(", ", names), [.. names.Select(n => Unit(Coefficients.IndexOf(n)))]);

    /// <summary>Profile-likelihood interval of the standard deviation of a random effect; its lower bound may be zero.</summary>
    /// <param name="term">The random term, or <see cref="VarianceComponent.ResidualName"/>.</param>
    /// <param name="column">The effect.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="InvalidInputError">No such term or column.</exception>
    public ConfidenceInterval StandardDeviationInterval(string term, string column = DesignMatrix.InterceptName, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        VarianceProfile profile = new(Deviance, Point, ResidualVariance);
        if (term == VarianceComponent.ResidualName)
            return profile.OfResidual(level);
        _ = Variance(term, column);
        int index = IndexOfTerm(term);
        return profile.OfEffect(index, Enumerable.Range(0, Terms[index].Size).First(c => Terms[index].ColumnName(c) == column), level);
    }

    /// <summary>Predictions of new rows, in groups of the data or in new ones, with normal intervals; variances are taken as known.</summary>
    /// <param name="x">Fixed columns of the new rows, in the order of the model's.</param>
    /// <param name="terms">Groups and columns of every random term. A nested group needs the groups that hold it.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="InvalidInputError">Other columns, a missing term, a group out of range or not within the group given for it.</exception>
    public IReadOnlyList<MixedPrediction> Predict(DesignMatrix x, IReadOnlyList<RandomTermRows> terms, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, "level");
        if (!x.Names.SequenceEqual(Design.Names))
            throw new InvalidInputError("the new rows have other columns than the model", $"Give {string.Join(", ", Design.Names)}, in this order.");
        RandomTermRows[] ordered = [.. Terms.Select(t => terms.FirstOrDefault(r => r.Name == t.Name)
            ?? throw new InvalidInputError($"the new rows say nothing of the random term '{t.Name}'", "Give its groups, null where a group is new.", column: t.Name))];
        for (int t = 0; t < ordered.Length; t++)
        {
            Require.SameLength(ordered[t].Groups.Count, x.Rows, ordered[t].Name);
            if ((ordered[t].Columns?.Rows ?? x.Rows) != x.Rows || (ordered[t].Columns?.Columns ?? 1) != Terms[t].Size)
                throw new InvalidInputError($"the columns of the random term '{ordered[t].Name}' do not fit the model or the rows", $"Give {Terms[t].Size} columns of {x.Rows} rows.", column: ordered[t].Name);
            if (ordered[t].Groups.Any(g => g < 0 || g >= Terms[t].Groups.Count))
                throw new InvalidInputError($"a group of the random term '{ordered[t].Name}' is out of range", "Give the position of the group, or null for a new one.", column: ordered[t].Name);
        }
        for (int i = 0; i < x.Rows; i++)
        {
            if (!predictor.Value.IsConsistent([.. ordered.Select(r => r.Groups[i])]))
                throw new InvalidInputError($"row {i} names a group that does not lie within the group given for the coarser term", "Give the groups as they lay in the data.", i);
        }
        return predictor.Value.Predict(x, ordered, level);
    }

    internal double DegreesOfFreedom(double[] weights) => Options.DegreesOfFreedom switch
    {
        FixedEffectDegreesOfFreedom.Normal => double.PositiveInfinity,
        FixedEffectDegreesOfFreedom.KenwardRoger => kenwardRoger!.DegreesOfFreedom(weights),
        _ => information.DegreesOfFreedom(weights),
    };

    /// <summary>Scale and denominator degrees of freedom of a joint F statistic; null where they come from single contrasts.</summary>
    internal (double Scale, double DegreesOfFreedom)? JointMoments(double[][] contrasts) => kenwardRoger?.Moments(contrasts);

    private double ContrastCovariance(double[] a, double[] b)
        => kenwardRoger?.ContrastCovariance(a, b) ?? information.ContrastCovariance(a, b);

    private int IndexOfTerm(string name)
    {
        for (int t = 0; t < Terms.Count; t++)
        {
            if (Terms[t].Name == name)
                return t;
        }
        throw new InvalidInputError($"no random term is called '{name}'", $"The terms are {string.Join(", ", Terms.Select(t => t.Name))}.", column: name);
    }

    private List<VarianceComponent> Components()
    {
        List<VarianceComponent> components = [];
        for (int t = 0; t < Terms.Count; t++)
        {
            RandomTerm term = Terms[t];
            double[] psi = Deviance.Covariance.Covariance(t, Point.Theta);
            int q = term.Size;
            for (int i = 0; i < q; i++)
                components.Add(new VarianceComponent(term.Name, term.ColumnName(i), null, ResidualVariance * psi[(i * q) + i], null));
            for (int i = 0; term.Correlated && i < q; i++)
            {
                for (int j = i + 1; j < q; j++)
                {
                    double product = psi[(i * q) + i] * psi[(j * q) + j];
                    double value = psi[(i * q) + j];
                    components.Add(new VarianceComponent(term.Name, term.ColumnName(i), term.ColumnName(j), ResidualVariance * value, product > 0 ? value / Math.Sqrt(product) : null));
                }
            }
        }
        components.Add(new VarianceComponent(VarianceComponent.ResidualName, VarianceComponent.ResidualName, null, ResidualVariance, null));
        return components;
    }

    private List<string> FindBoundaryTerms()
    {
        List<string> names = [];
        for (int m = 0; m < Point.Theta.Length; m++)
        {
            (int term, int row, int column) = Deviance.Covariance.Cell(m);
            if (row == column && Point.Theta[m] < BoundaryTolerance && !names.Contains(Terms[term].Name))
                names.Add(Terms[term].Name);
        }
        return names;
    }

    private Coefficients MakeCoefficients()
    {
        int p = Design.Columns;
        double[] covariance = new double[p * p];
        double[] df = new double[p];
        for (int i = 0; i < p; i++)
        {
            double[] unit = Unit(i);
            df[i] = DegreesOfFreedom(unit);
            for (int j = 0; j <= i; j++)
                covariance[(i * p) + j] = covariance[(j * p) + i] = ContrastCovariance(unit, Unit(j));
        }
        string method = Options.DegreesOfFreedom switch
        {
            FixedEffectDegreesOfFreedom.Normal => "model-based",
            FixedEffectDegreesOfFreedom.KenwardRoger => "model-based, adjusted after Kenward and Roger",
            _ => "model-based, Satterthwaite degrees of freedom",
        };
        return new Coefficients(Deviance.FixedEffects(Point), new SymmetricMatrix(Design.Names, covariance), method, df);
    }

    private double[] Unit(int column)
    {
        double[] unit = new double[Design.Columns];
        unit[column] = 1;
        return unit;
    }
}
