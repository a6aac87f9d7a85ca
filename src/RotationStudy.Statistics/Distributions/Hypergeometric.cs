namespace RotationStudy.Statistics.Distributions;

/// <summary>The number of marked items in a sample drawn without replacement: a 2 x 2 table with fixed margins.</summary>
/// <remarks>
/// Both tails include k itself. A tail is summed term by term from k outwards by the ratio of neighbouring
/// probabilities, so it costs as many steps as it has terms that matter. <b>Checked against</b> Distributions/tails.
/// </remarks>
public static class Hypergeometric
{
    /// <summary>Log probability of exactly k marked items.</summary>
    /// <param name="k">Marked items in the sample.</param>
    /// <param name="marked">Marked items in the population.</param>
    /// <param name="unmarked">Other items in the population.</param>
    /// <param name="sample">Size of the sample, at most the population's.</param>
    public static double LogProbability(int k, int marked, int unmarked, int sample)
    {
        Check(marked, unmarked, sample);
        if (k < Math.Max(0, sample - unmarked) || k > Math.Min(marked, sample))
            return double.NegativeInfinity;
        // A ratio of three binomial probabilities with a common success probability near sample/population (Loader 2000).
        int population = marked + unmarked;
        double share = population == 0 ? 0.5 : Math.Clamp((double)sample / population, 1e-12, 1 - 1e-12);
        return Binomial.LogProbability(k, marked, share)
            + Binomial.LogProbability(sample - k, unmarked, share)
            - Binomial.LogProbability(sample, population, share);
    }

    /// <summary>Probability of k marked items or fewer.</summary>
    public static double AtMost(int k, int marked, int unmarked, int sample)
    {
        Check(marked, unmarked, sample);
        int lowest = Math.Max(0, sample - unmarked);
        int highest = Math.Min(marked, sample);
        if (k < lowest)
            return 0;
        if (k >= highest)
            return 1;
        return k <= Mode(marked, unmarked, sample)
            ? SumDown(k, lowest, marked, unmarked, sample)
            : 1 - SumUp(k + 1, highest, marked, unmarked, sample);
    }

    /// <summary>Probability of k marked items or more.</summary>
    public static double AtLeast(int k, int marked, int unmarked, int sample)
    {
        Check(marked, unmarked, sample);
        int lowest = Math.Max(0, sample - unmarked);
        int highest = Math.Min(marked, sample);
        if (k <= lowest)
            return 1;
        if (k > highest)
            return 0;
        return k > Mode(marked, unmarked, sample)
            ? SumUp(k, highest, marked, unmarked, sample)
            : 1 - SumDown(k - 1, lowest, marked, unmarked, sample);
    }

    private static long Mode(int marked, int unmarked, int sample)
        => (long)Math.Floor((sample + 1.0) * (marked + 1.0) / (marked + (double)unmarked + 2));

    private static double SumDown(int k, int lowest, int marked, int unmarked, int sample)
    {
        double term = 1;
        double sum = 1;
        for (int i = k; i > lowest && term > 1e-18 * sum; i--)
        {
            term *= i * ((double)unmarked - sample + i) / ((marked - i + 1.0) * (sample - i + 1.0));
            sum += term;
        }
        return Math.Min(1, sum * Math.Exp(LogProbability(k, marked, unmarked, sample)));
    }

    private static double SumUp(int k, int highest, int marked, int unmarked, int sample)
    {
        double term = 1;
        double sum = 1;
        for (int i = k; i < highest && term > 1e-18 * sum; i++)
        {
            term *= ((double)marked - i) * ((double)sample - i) / ((i + 1.0) * ((double)unmarked - sample + i + 1));
            sum += term;
        }
        return Math.Min(1, sum * Math.Exp(LogProbability(k, marked, unmarked, sample)));
    }

    private static void Check(int marked, int unmarked, int sample)
    {
        Domain.Count(marked, nameof(marked));
        Domain.Count(unmarked, nameof(unmarked));
        Domain.Count(sample, nameof(sample));
        if (sample > (long)marked + unmarked)
            throw new InvalidInputError($"a sample of {sample} exceeds the population of {(long)marked + unmarked}", "Check the margins of the table.");
    }
}
