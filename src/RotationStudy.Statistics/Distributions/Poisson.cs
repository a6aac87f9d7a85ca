namespace RotationStudy.Statistics.Distributions;

/// <summary>The Poisson distribution of a count with a given mean.</summary>
/// <remarks>Both tails include k itself; they come from the incomplete gamma function. <b>Checked against</b> Distributions/tails.</remarks>
public static class Poisson
{
    /// <summary>Log probability of exactly k.</summary>
    public static double LogProbability(int k, double mean)
    {
        Domain.PositiveFinite(mean, nameof(mean));
        if (k < 0)
            return double.NegativeInfinity;
        return k == 0
            ? -mean
            : -StableMath.StirlingError(k) - StableMath.Deviance(k, mean, k - mean) - (0.5 * Math.Log(2 * Math.PI * k));
    }

    /// <summary>Probability of k or fewer: Q(k+1, mean).</summary>
    public static double AtMost(int k, double mean)
    {
        Domain.PositiveFinite(mean, nameof(mean));
        return k < 0 ? 0 : Math.Exp(IncompleteGamma.LogUpper(k + 1.0, mean));
    }

    /// <summary>Probability of k or more: P(k, mean).</summary>
    public static double AtLeast(int k, double mean)
    {
        Domain.PositiveFinite(mean, nameof(mean));
        return k <= 0 ? 1 : Math.Exp(IncompleteGamma.LogLower(k, mean));
    }
}
