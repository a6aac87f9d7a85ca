namespace RotationStudy.Statistics.Regression;

/// <summary>How the rate of a counted event depends on columns when counts vary more than Poisson counts do.</summary>
/// <remarks>
/// <para><b>Model</b>: log E(y) = x'b + offset and Var(y) = m + alpha m^2: a Poisson count whose rate varies between rows by a gamma factor of mean 1
/// and variance alpha = 1 / theta. exp(b) is a rate ratio when the offset is the log of the time at risk.</para>
/// <para><b>Fit</b>: joint maximum likelihood. For a given alpha the coefficients are found by Newton's method (the log-likelihood is concave in them); log alpha is
/// found by a safeguarded Newton iteration on the profile likelihood with its exact second derivative. Stop rule: squared step under 1e-18 squared
/// standard errors in both.</para>
/// <para><b>Variance</b>: for independent rows the inverse of the joint observed information of coefficients and log alpha. Libraries differ: some hold
/// alpha fixed and use the expected information, given here as DispersionFixedCovariance; with clusters the sandwich is built on that form,
/// since coefficients and dispersion are orthogonal in expectation.</para>
/// <para><b>Edges</b>: where the likelihood falls as alpha leaves zero (no over-dispersion, by the sign of the score of Dean 1992) the Poisson fit
/// is returned with alpha = 0, theta infinite and a warning. Separation as for the Poisson model. Data in which alpha grows without bound are not
/// convergent and say so.</para>
/// <para><b>Sources</b>: Lawless JF. Can J Stat 1987;15:209-225; Cameron AC, Trivedi PK. Regression Analysis of Count Data, 2nd ed. 2013, ch. 3 (NB2);
/// Dean CB. JASA 1992;87:451-457; Self SG, Liang KY. JASA 1987;82:605-610.</para>
/// <para><b>Checked against</b>: Counts/epilepsy, Peers.</para>
/// </remarks>
public static class NegativeBinomialRegression
{
    /// <summary>Fits the model.</summary>
    /// <param name="x">Design, n by p; ask for its intercept.</param>
    /// <param name="counts">Whole numbers from zero, length n.</param>
    /// <param name="logExposure">Offset: the natural log of the time (or number) at risk per row, or none for equal exposures.</param>
    /// <param name="clusters">Which rows may be dependent; null takes all as independent.</param>
    /// <param name="options">Variance, stop rule; null for the defaults.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">A count that is none, an exposure of zero (log minus infinity), NaN, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">No event, fewer rows than columns, one cluster.</exception>
    /// <exception cref="RankDeficientError">A column is a combination of others.</exception>
    /// <exception cref="SeparationError">The columns mark off rows without any event.</exception>
    /// <exception cref="NotConvergedError">The stop rule was not met.</exception>
    public static NegativeBinomialFit Fit(
        DesignMatrix x,
        ReadOnlySpan<double> counts,
        ReadOnlySpan<double> logExposure = default,
        Clusters? clusters = null,
        GeneralizedLinearOptions? options = null,
        ReadOnlySpan<double> weights = default)
    {
        options ??= GeneralizedLinearOptions.Default;
        GeneralizedLinearData data = GeneralizedLinearData.Check(x, OutcomeKind.Count, binary: false, counts, logExposure, weights);
        GeneralizedLinearSolver<PoissonFamily> poisson = new(default, x, data);
        poisson.Maximize(GeneralizedLinearStart.LogLink(x, data), options);
        double poissonLogLikelihood = poisson.LogLikelihood + data.LogLikelihoodConstant;
        double start = NegativeBinomialProfile.MomentAlpha(poisson.LinearPredictor, data);
        if (!(start > 0))
            return OnBoundary(GeneralizedLinearFit.From("negative binomial", default, poisson, x, data, clusters, options), poissonLogLikelihood);
        NegativeBinomialProfile profile = new(x, data, options);
        profile.Maximize(poisson.Values, start);
        return Interior(profile, x, data, clusters, options, poissonLogLikelihood);
    }

    private static NegativeBinomialFit OnBoundary(GeneralizedLinearFit poisson, double poissonLogLikelihood)
        => new()
        {
            Regression = poisson with
            {
                ExtraParameters = 1,
                Link = MeanLink.Log,
                Refit = other => [.. Fit(poisson.Working.Design, poisson.Data.Outcome, poisson.Data.Offset, weights: other).Regression.Coefficients.Values],
                Warnings = [.. poisson.Warnings, "no over-dispersion: alpha is zero and the fit is the Poisson fit"],
            },
            Alpha = 0,
            AlphaStandardError = double.NaN,
            DispersionFixedCovariance = poisson.ModelBasedCovariance,
            PoissonLogLikelihood = poissonLogLikelihood,
        };

    private static NegativeBinomialFit Interior(
        NegativeBinomialProfile profile, DesignMatrix x, GeneralizedLinearData data, Clusters? clusters, GeneralizedLinearOptions options, double poissonLogLikelihood)
    {
        double[] joint = profile.JointCovariance();
        GeneralizedLinearSolver<NegativeBinomialFamily> solver = profile.AtExpectedInformation();
        GeneralizedLinearFit fit = GeneralizedLinearFit.From(
            "negative binomial", new NegativeBinomialFamily(profile.Alpha, expected: true), solver, x, data, clusters, options);
        int p = x.Columns;
        double[] block = new double[p * p];
        for (int i = 0; i < p; i++)
            joint.AsSpan(i * (p + 1), p).CopyTo(block.AsSpan(i * p, p));
        SymmetricMatrix modelBased = new(x.Names, block);
        return new NegativeBinomialFit
        {
            Regression = fit with
            {
                LogLikelihood = profile.LogLikelihood,
                Null = new(() => NegativeBinomialProfile.Null(x, data, options)),
                ModelBasedCovariance = modelBased,
                Coefficients = clusters is null ? new Coefficients(solver.Values, modelBased, "model-based, joint observed information, independent rows") : fit.Coefficients,
                Iterations = profile.Iterations,
                ExtraParameters = 1,
                Link = MeanLink.Log,
                Refit = other => [.. Fit(x, data.Outcome, data.Offset, weights: other).Regression.Coefficients.Values],
            },
            Alpha = profile.Alpha,
            AlphaStandardError = profile.Alpha * Math.Sqrt(joint[^1]),
            DispersionFixedCovariance = fit.ModelBasedCovariance,
            PoissonLogLikelihood = poissonLogLikelihood,
        };
    }
}
