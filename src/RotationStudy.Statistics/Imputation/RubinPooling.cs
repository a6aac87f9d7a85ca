using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Imputation;

/// <summary>One quantity pooled over imputations.</summary>
/// <param name="Estimate">Mean of the estimates with total standard error and the t interval on Barnard and Rubin's degrees of freedom.</param>
/// <param name="WithinVariance">Mean of the squared standard errors.</param>
/// <param name="BetweenVariance">Variance of the estimates between imputations.</param>
/// <param name="RelativeIncrease">Relative increase of variance by what is missing: (1 + 1/m) between / within.</param>
/// <param name="MissingShare">Share of the total variance due to what is missing: (1 + 1/m) between / total.</param>
/// <param name="FractionOfMissingInformation">The same, allowing for the finite number of imputations: (r + 2/(df+3)) / (r + 1).</param>
public sealed record PooledEstimate(
    Estimate Estimate,
    double WithinVariance,
    double BetweenVariance,
    double RelativeIncrease,
    double MissingShare,
    double FractionOfMissingInformation);

/// <summary>Coefficients pooled over imputations.</summary>
/// <param name="Coefficients">Pooled estimates with the total covariance and their degrees of freedom.</param>
/// <param name="Terms">Each coefficient with its parts of variance.</param>
/// <param name="Imputations">Number of imputations, m.</param>
/// <param name="Within">Mean covariance within imputations.</param>
/// <param name="Between">Covariance between imputations.</param>
public sealed record PooledCoefficients(
    Coefficients Coefficients,
    IReadOnlyList<PooledEstimate> Terms,
    int Imputations,
    SymmetricMatrix Within,
    SymmetricMatrix Between)
{
    /// <summary>The pooled Wald test that all named coefficients are zero: D1 of Li, Raghunathan and Rubin (1991).</summary>
    /// <remarks>The between covariance is taken as proportional to the one within; the denominator degrees of freedom are those for large complete data.</remarks>
    /// <exception cref="RankDeficientError">The covariance of the named coefficients is singular.</exception>
    public TestResult WaldTest(params IReadOnlyList<string> terms)
    {
        int k = terms.Count;
        int[] at = [.. terms.Select(Coefficients.IndexOf)];
        double[] within = new double[k * k];
        double[] q = new double[k];
        for (int i = 0; i < k; i++)
        {
            q[i] = Coefficients.Values[at[i]];
            for (int j = 0; j < k; j++)
                within[(i * k) + j] = Within[at[i], at[j]];
        }
        SmallCholesky factor = SmallCholesky.Factor(within, k, terms);
        double[] inverse = factor.Inverse();
        double trace = 0;
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j < k; j++)
                trace += inverse[(i * k) + j] * Between[at[j], at[i]];
        }
        double increase = (1 + (1.0 / Imputations)) * trace / k;
        double statistic = CrossProduct.Dot(q, factor.Solve(q)) / (k * (1 + increase));
        double df = RubinPooling.WaldDenominator(k, Imputations, increase);
        return new TestResult("pooled Wald F", statistic, k, df, FDistribution.UpperTail(statistic, k, df));
    }
}

/// <summary>Rubin's rules: one answer from the analyses of several completed tables.</summary>
/// <remarks>
/// <para>Q = mean of estimates, U = mean of their variances, B = variance between them; total T = U + (1 + 1/m) B. Degrees of
/// freedom (Barnard and Rubin 1999): 1/(1/v_m + 1/v_obs), v_m = (m-1)/L^2, v_obs = (v+1)/(v+3) v (1-L), L = (1+1/m) B/T, v those of
/// complete data; infinite v gives Rubin's (1987) v_m. Estimates equal in all imputations have v_obs alone.</para>
/// <para>Quantities should be near normal: pool log odds, log rates and transformed correlations, not ratios.</para>
/// <para><b>Sources.</b> Rubin DB, Multiple Imputation for Nonresponse in Surveys, 1987, ch. 3; Barnard J, Rubin DB, Biometrika
/// 1999;86:948-955; Li KH, Raghunathan TE, Rubin DB, J Am Stat Assoc 1991;86:1065-1073. <b>Checked against</b> Imputation/rubin_nhanes, Imputation/wald_d1.</para>
/// </remarks>
public static class RubinPooling
{
    /// <summary>Pools one quantity.</summary>
    /// <param name="term">What it is.</param>
    /// <param name="estimates">Its estimate from each imputation.</param>
    /// <param name="variances">Its squared standard error from each imputation.</param>
    /// <param name="completeDegreesOfFreedom">Degrees of freedom with complete data; infinite for none.</param>
    /// <param name="level">Level of confidence.</param>
    /// <exception cref="TooFewDataError">Fewer than two imputations.</exception>
    public static PooledEstimate Pool(
        string term,
        IReadOnlyList<double> estimates,
        IReadOnlyList<double> variances,
        double completeDegreesOfFreedom = double.PositiveInfinity,
        double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        double[] q = [.. estimates];
        double[] u = [.. variances];
        Require.SameLength(u.Length, q.Length, "variances");
        Require.Finite(q, "estimates");
        Require.Finite(u, "variances");
        Require.AtLeast(u, 0, "variances");
        if (q.Length < 2)
            throw new TooFewDataError($"{q.Length} imputation shows no variance between imputations", "Make 20.");
        double mean = q.Average();
        double between = q.Sum(v => (v - mean) * (v - mean)) / (q.Length - 1);
        return Assemble(term, mean, u.Average(), between, q.Length, completeDegreesOfFreedom, level);
    }

    /// <summary>Pools all coefficients of a model; the fits must have the same terms in the same order.</summary>
    /// <exception cref="InvalidInputError">Fits with different terms.</exception>
    public static PooledCoefficients Pool(IReadOnlyList<Coefficients> fits, double completeDegreesOfFreedom, double level = ConfidenceInterval.DefaultLevel)
    {
        if (fits.Count < 2)
            throw new TooFewDataError($"{fits.Count} imputation shows no variance between imputations", "Make 20.");
        IReadOnlyList<string> terms = fits[0].Terms;
        if (fits.Any(f => !f.Terms.SequenceEqual(terms)))
            throw new InvalidInputError("the fits have different terms", "Fit the same model to every imputation; look for a category that is missing in some.");
        int p = terms.Count;
        double m = fits.Count;
        double[] mean = new double[p];
        double[] within = new double[p * p];
        double[] between = new double[p * p];
        foreach (Coefficients fit in fits)
        {
            for (int i = 0; i < p; i++)
                mean[i] += fit.Values[i] / m;
            for (int c = 0; c < within.Length; c++)
                within[c] += fit.Covariance.Values[c] / m;
        }
        foreach (Coefficients fit in fits)
        {
            for (int c = 0; c < between.Length; c++)
                between[c] += (fit.Values[c / p] - mean[c / p]) * (fit.Values[c % p] - mean[c % p]) / (m - 1);
        }
        double[] total = new double[p * p];
        for (int c = 0; c < total.Length; c++)
            total[c] = within[c] + ((1 + (1 / m)) * between[c]);
        PooledEstimate[] pooled = [.. Enumerable.Range(0, p).Select(i => Assemble(terms[i], mean[i], within[(i * p) + i], between[(i * p) + i], fits.Count, completeDegreesOfFreedom, level))];
        Coefficients coefficients = new(
            mean,
            new SymmetricMatrix(terms, total),
            $"{fits[0].VarianceMethod}, pooled over {fits.Count} imputations",
            [.. pooled.Select(e => e.Estimate.DegreesOfFreedom)]);
        return new PooledCoefficients(coefficients, pooled, fits.Count, new SymmetricMatrix(terms, within), new SymmetricMatrix(terms, between));
    }

    /// <summary>Denominator degrees of freedom of D1.</summary>
    internal static double WaldDenominator(int k, int imputations, double increase)
    {
        double t = k * (imputations - 1.0);
        if (increase <= 0)
            return double.PositiveInfinity;
        double ratio = 1 + ((1 - (2 / t)) / increase);
        return t > 4 ? 4 + ((t - 4) * ratio * ratio) : t * (1 + (1.0 / k)) * (1 + (1 / increase)) * (1 + (1 / increase)) / 2;
    }

    private static PooledEstimate Assemble(string term, double mean, double within, double between, int m, double completeDf, double level)
    {
        double missing = (1 + (1.0 / m)) * between;
        double total = within + missing;
        double share = total == 0 ? 0 : missing / total;
        double increase = within == 0 ? (missing == 0 ? 0 : double.PositiveInfinity) : missing / within;
        double df = DegreesOfFreedom(m, share, completeDf);
        double fraction = double.IsInfinity(increase) ? 1 : (increase + (2 / (df + 3))) / (increase + 1);
        return new PooledEstimate(Statistics.Estimate.Wald(term, mean, Math.Sqrt(total), df, level), within, between, increase, share, fraction);
    }

    private static double DegreesOfFreedom(int m, double share, double complete)
    {
        double imputed = share == 0 ? double.PositiveInfinity : (m - 1) / (share * share);
        if (double.IsPositiveInfinity(complete))
            return imputed;
        double observed = (complete + 1) / (complete + 3) * complete * (1 - share);
        if (double.IsPositiveInfinity(imputed))
            return observed;
        return imputed * observed / (imputed + observed);
    }
}
