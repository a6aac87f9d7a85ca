using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Whether counts vary more than a fitted Poisson model allows, and whether they hold more zeros.</summary>
/// <remarks>
/// All tests start from a Poisson fit with means m. They take rows as independent: with clusters a small p value may mean dependence as well, and the
/// cluster-robust variance answers both.
/// <list type="bullet">
/// <item>Cameron and Trivedi (1990): regress ((y - m)^2 - y) / m on m without a constant (variance m + alpha m^2) or on a constant (variance (1 + alpha) m); the
/// slope estimates alpha. One-sided, normal reference, for alpha above zero.</item>
/// <item>Dean (1992): score statistic for a gamma-mixed rate, P_B = sum of ((y - m)^2 - y + h m) / sqrt(2 sum m^2), h the leverages: the adjustment brings
/// the statistic to mean zero in small samples. One-sided normal.</item>
/// <item>van den Broek (1995): score test of extra zeros, chi-square on one degree of freedom; it answers too few zeros as well as too many. Over-dispersion
/// of any kind makes zeros, so that it is read after the tests above.</item>
/// </list>
/// The likelihood-ratio test against the negative binomial stands at <see cref="NegativeBinomialFit.OverdispersionTest"/>.
/// <para><b>Sources</b>: Cameron AC, Trivedi PK. J Econometrics 1990;46:347-364; Dean CB. JASA 1992;87:451-457; van den Broek J. Biometrics 1995;51:738-743.</para>
/// <para><b>Checked against</b>: Counts/overdispersion.</para>
/// </remarks>
public static class OverdispersionTests
{
    /// <summary>Cameron and Trivedi's test of variance m + alpha m^2; the estimate is alpha, its p value one-sided.</summary>
    /// <exception cref="InvalidInputError">The fit is no Poisson fit, or has case weights.</exception>
    public static Estimate CameronTrivedi(GeneralizedLinearFit poisson) => Auxiliary(poisson, "alpha, variance m + alpha m^2", proportional: true);

    /// <summary>Cameron and Trivedi's test of variance (1 + alpha) m; the estimate is alpha, its p value one-sided.</summary>
    /// <exception cref="InvalidInputError">The fit is no Poisson fit, or has case weights.</exception>
    public static Estimate CameronTrivediLinear(GeneralizedLinearFit poisson) => Auxiliary(poisson, "alpha, variance (1 + alpha) m", proportional: false);

    /// <summary>Dean's adjusted score test against a gamma-mixed Poisson rate; one-sided.</summary>
    /// <exception cref="InvalidInputError">The fit is no Poisson fit, or has case weights.</exception>
    public static TestResult Dean(GeneralizedLinearFit poisson)
    {
        RequirePoisson(poisson);
        double[] leverage = poisson.Working.Leverage();
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < leverage.Length; i++)
        {
            double m = poisson.FittedMeans[i];
            double y = poisson.Data.Outcome[i];
            sum += ((y - m) * (y - m)) - y + (leverage[i] * m);
            squares += m * m;
        }
        double z = sum / Math.Sqrt(2 * squares);
        return new TestResult("score test of over-dispersion, Dean's P_B adjusted", z, double.NaN, double.PositiveInfinity, StandardNormal.UpperTail(z));
    }

    /// <summary>van den Broek's score test of zero inflation.</summary>
    /// <exception cref="InvalidInputError">The fit is no Poisson fit, or has case weights.</exception>
    public static TestResult ZeroInflation(GeneralizedLinearFit poisson)
    {
        RequirePoisson(poisson);
        double score = 0;
        double variance = 0;
        for (int i = 0; i < poisson.FittedMeans.Count; i++)
        {
            double m = poisson.FittedMeans[i];
            score += (poisson.Data.Outcome[i] == 0 ? Math.Exp(m) : 0) - 1;
            variance += StableMath.Expm1(m);
        }
        // The part of the variance that the estimated coefficients take up: m'X (X' diag(m) X)^-1 X'm.
        double[] means = [.. poisson.FittedMeans];
        double[] projected = new double[poisson.Working.Design.Columns];
        CrossProduct.WithVector(poisson.Working.Design, means, projected);
        variance -= poisson.ModelBasedCovariance.Quadratic(projected, projected);
        return GeneralizedLinearFit.ChiSquaredTest("score test of zero inflation", score * score / variance, 1);
    }

    // Ordinary least squares through the origin of z on g, where g is the mean or one.
    private static Estimate Auxiliary(GeneralizedLinearFit poisson, string term, bool proportional)
    {
        RequirePoisson(poisson);
        int n = poisson.FittedMeans.Count;
        if (n < 2)
            throw new TooFewDataError("one row gives no spread", "Give two rows at the very least.");
        double gg = 0;
        double gz = 0;
        double zz = 0;
        for (int i = 0; i < n; i++)
        {
            double m = poisson.FittedMeans[i];
            double y = poisson.Data.Outcome[i];
            double z = (((y - m) * (y - m)) - y) / m;
            double g = proportional ? m : 1;
            gg += g * g;
            gz += g * z;
            zz += z * z;
        }
        double alpha = gz / gg;
        double standardError = Math.Sqrt(Math.Max(0, zz - (alpha * gz)) / (n - 1) / gg);
        Estimate wald = Estimate.Wald(term, alpha, standardError);
        return wald with { PValue = StandardNormal.UpperTail(wald.Statistic) };
    }

    private static void RequirePoisson(GeneralizedLinearFit fit)
    {
        if (fit.Model != "Poisson" || !fit.Data.Weights.IsEmpty)
            throw new InvalidInputError("the tests of over-dispersion start from a Poisson fit without case weights", "Fit the counts with PoissonRegression first.");
    }
}
