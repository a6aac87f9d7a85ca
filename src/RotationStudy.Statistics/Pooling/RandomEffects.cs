using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Pooling;

/// <summary>How estimates of several sources are pooled.</summary>
public sealed record RandomEffectsOptions
{
    /// <summary>The options used where none are given.</summary>
    public static RandomEffectsOptions Default { get; } = new();

    /// <summary>Restricted likelihood, since the method of moments is biased downwards where sources differ much in size.</summary>
    public BetweenVarianceMethod Between { get; init; } = BetweenVarianceMethod.RestrictedLikelihood;

    /// <summary>Whether the variance of the mean is that of Hartung, Knapp, Sidik and Jonkman with a t reference; the plain one takes the variance between sources as known.</summary>
    public bool Adjusted { get; init; } = true;

    /// <summary>Level of confidence of all intervals.</summary>
    public double Level { get; init; } = ConfidenceInterval.DefaultLevel;
}

/// <summary>Estimates of several sources pooled, with how much they differ.</summary>
/// <param name="Sources">Number of sources, k.</param>
/// <param name="Between">How the variance between sources was estimated.</param>
/// <param name="Mean">Mean of the sources' effects.</param>
/// <param name="Common">The inverse-variance mean that takes one common effect for granted; normal reference.</param>
/// <param name="BetweenVariance">Variance between sources, tau squared.</param>
/// <param name="BetweenVarianceInterval">Its interval by the generalised Q statistic.</param>
/// <param name="Heterogeneity">Cochran's Q test that all sources share one effect.</param>
/// <param name="Inconsistency">I squared: share of the variation that is not sampling error, 0 to 1.</param>
/// <param name="InconsistencyInterval">The same at the ends of the interval of the variance between sources.</param>
/// <param name="Prediction">Interval for the effect in a source like these that was not among them.</param>
/// <param name="Shares">Share of each source in the mean; they sum to one.</param>
/// <param name="Warnings">What a reader should know.</param>
public sealed record RandomEffectsFit(
    int Sources,
    BetweenVarianceMethod Between,
    Estimate Mean,
    Estimate Common,
    double BetweenVariance,
    ConfidenceInterval BetweenVarianceInterval,
    TestResult Heterogeneity,
    double Inconsistency,
    ConfidenceInterval InconsistencyInterval,
    ConfidenceInterval Prediction,
    IReadOnlyList<double> Shares,
    IReadOnlyList<string> Warnings);

/// <summary>The mean and the spread of an effect over sources, from one estimate and standard error of each.</summary>
/// <remarks>
/// <para><b>Model</b>: y_i = mu + u_i + e_i, k independent sources, e_i normal with known variance v_i, u_i normal with
/// variance tau squared. The mean has weights 1 / (v_i + tau^2).</para>
/// <para><b>Variance between</b>: method of moments (DerSimonian and Laird) or restricted maximum likelihood; the likelihood is
/// searched on a grid of 80 points up to the squared range of the estimates and the root of its derivative taken next to
/// the best, so that the higher of two tops is found. Interval: the values for which the generalised Q
/// statistic lies between chi-square quantiles on k - 1 (Viechtbauer 2007); it may end at zero and need not hold the estimate.</para>
/// <para><b>Variance of the mean</b>: q / sum of w with q = sum w_i (y_i - mu)^2 / (k - 1), reference t on k - 1 (Hartung and
/// Knapp; Sidik and Jonkman), not cut off at the plain variance 1 / sum of w; a warning says when q is below one, where the interval
/// may be shorter than that of a common effect. With <see cref="RandomEffectsOptions.Adjusted"/> off: 1 / sum of w, normal reference.</para>
/// <para><b>I squared</b> = tau^2 / (tau^2 + s^2) with the typical variance s^2 of Higgins and Thompson; with the method of moments this
/// is (Q - k + 1) / Q.</para>
/// <para><b>Prediction interval</b>: mu plus or minus t times the root of tau^2 and the variance of the mean, t on k - 1 (normal
/// where not adjusted). Higgins et al. (2009) take k - 2; libraries differ. It takes normal effects for granted and
/// with fewer than five sources says little.</para>
/// <para><b>Edges</b>: one source is refused; equal estimates give tau squared zero; with two sources all rests on one degree of freedom.</para>
/// <para><b>Sources</b>: DerSimonian R, Laird N. Control Clin Trials 1986;7:177-188; Hartung J, Knapp G. Stat Med 2001;20:3875-3889; Sidik
/// K, Jonkman JN. Stat Med 2002;21:3153-3159; Higgins JPT, Thompson SG. Stat Med 2002;21:1539-1558; Viechtbauer W. Stat Med
/// 2007;26:37-52; Higgins JPT, Thompson SG, Spiegelhalter DJ. J R Stat Soc A 2009;172:137-159 (all recalled, not re-read).</para>
/// <para><b>Checked against</b>: Pooling/vaccine_trials.</para>
/// </remarks>
public static class RandomEffects
{
    private const int FewSources = 5;

    /// <summary>Pools one estimate of each source.</summary>
    /// <param name="estimates">Estimates on the scale of the model (log ratios), length k, two or more.</param>
    /// <param name="standardErrors">Their standard errors, above zero, length k.</param>
    /// <param name="options">Methods and level; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree, values that are no numbers, a standard error not above zero.</exception>
    /// <exception cref="TooFewDataError">One source.</exception>
    public static RandomEffectsFit Pool(IReadOnlyList<double> estimates, IReadOnlyList<double> standardErrors, RandomEffectsOptions? options = null)
        => Pool(SourceEstimates.From(estimates, standardErrors), options ?? RandomEffectsOptions.Default);

    /// <summary>Pools the other sources, leaving out one after the other; empty where two or fewer are there.</summary>
    /// <param name="estimates">Estimates, length k.</param>
    /// <param name="standardErrors">Their standard errors, length k.</param>
    /// <param name="options">Methods and level; null for the defaults.</param>
    /// <returns>One fit per source, in the same order.</returns>
    public static IReadOnlyList<RandomEffectsFit> WithoutEach(IReadOnlyList<double> estimates, IReadOnlyList<double> standardErrors, RandomEffectsOptions? options = null)
    {
        SourceEstimates sources = SourceEstimates.From(estimates, standardErrors);
        return sources.Count <= 2 ? [] : [.. Enumerable.Range(0, sources.Count).Select(i => Pool(sources.Without(i), options ?? RandomEffectsOptions.Default))];
    }

    private static RandomEffectsFit Pool(SourceEstimates sources, RandomEffectsOptions options)
    {
        Require.Probability(options.Level, "level");
        double df = sources.Count - 1;
        PooledSums common = sources.At(0);
        double between = BetweenVariance.Estimate(sources, options.Between);
        ConfidenceInterval interval = BetweenVariance.Interval(sources, options.Level);
        PooledSums sums = sources.At(between);
        double inflation = sums.Dispersion / df;
        double variance = (options.Adjusted ? inflation : 1) / sums.Weights;
        double reference = options.Adjusted ? df : double.PositiveInfinity;
        double half = StudentT.UpperQuantile((1 - options.Level) / 2, reference) * Math.Sqrt(between + variance);
        double typical = sources.TypicalVariance;
        return new RandomEffectsFit(
            sources.Count,
            options.Between,
            Mean("mean effect", sums.Mean, Math.Sqrt(variance), reference, options.Level),
            Estimate.Wald("common effect", common.Mean, Math.Sqrt(1 / common.Weights), level: options.Level),
            between,
            interval,
            TestResult.ChiSquare("Cochran's Q", common.Dispersion, df),
            between / (between + typical),
            interval.Map(t => t / (t + typical)),
            new ConfidenceInterval(sums.Mean - half, sums.Mean + half, options.Level),
            sources.Shares(between),
            [.. Warnings(sources, options, inflation)]);
    }

    // Equal estimates have no spread, so that the adjusted variance is zero: the test then has no statistic.
    private static Estimate Mean(string term, double value, double error, double df, double level)
        => error > 0
            ? Estimate.Wald(term, value, error, df, level)
            : new Estimate(term, value, 0, df, new ConfidenceInterval(value, value, level), value == 0 ? 1 : 0);

    private static IEnumerable<string> Warnings(SourceEstimates sources, RandomEffectsOptions options, double inflation)
    {
        if (options.Adjusted && inflation < 1)
            yield return "the sources agree better than chance lets them, so the interval of the mean may be too short; read that of the common effect beside it";
        if (sources.Count < FewSources)
            yield return FormattableString.Invariant($"{sources.Count} sources say little about how much sources differ: the prediction interval and the variance between them are guides only");
    }
}
