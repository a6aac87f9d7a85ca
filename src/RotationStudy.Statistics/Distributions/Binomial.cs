namespace RotationStudy.Statistics.Distributions;

/// <summary>The number of successes in n independent trials of probability p.</summary>
/// <remarks>Both tails include k itself; they come from the incomplete beta function. <b>Checked against</b> Distributions/tails.</remarks>
public static class Binomial
{
    /// <summary>Log probability of exactly k successes.</summary>
    public static double LogProbability(int k, int trials, double probability)
    {
        Check(trials, probability);
        if (k < 0 || k > trials)
            return double.NegativeInfinity;
        if (k == 0)
            return trials == 0 ? 0 : trials * StableMath.Log1p(-probability);
        if (k == trials)
            return trials * Math.Log(probability);
        double other = trials - k;
        double excess = k - (trials * probability);
        return StableMath.StirlingError(trials) - StableMath.StirlingError(k) - StableMath.StirlingError(other)
            - StableMath.Deviance(k, trials * probability, excess)
            - StableMath.Deviance(other, trials * (1 - probability), -excess)
            - (0.5 * Math.Log(2 * Math.PI * k * (other / trials)));
    }

    /// <summary>Probability of k successes or fewer.</summary>
    public static double AtMost(int k, int trials, double probability)
    {
        Check(trials, probability);
        if (k < 0)
            return 0;
        return k >= trials ? 1 : Math.Exp(IncompleteBeta.LogLower(trials - k, k + 1.0, 1 - probability, probability));
    }

    /// <summary>Probability of k successes or more.</summary>
    public static double AtLeast(int k, int trials, double probability)
    {
        Check(trials, probability);
        if (k <= 0)
            return 1;
        return k > trials ? 0 : Math.Exp(IncompleteBeta.LogLower(k, trials - k + 1.0, probability, 1 - probability));
    }

    private static void Check(int trials, double probability)
    {
        Domain.Count(trials, "trials");
        Domain.Share(probability);
    }
}
