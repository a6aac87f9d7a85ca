using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Pooling;

/// <summary>How the variance between sources is estimated.</summary>
public enum BetweenVarianceMethod
{
    /// <summary>The method of moments of DerSimonian and Laird (1986), set to zero where it is negative.</summary>
    DerSimonianLaird,

    /// <summary>Restricted maximum likelihood, the maximum over zero or more.</summary>
    RestrictedLikelihood,
}

/// <summary>Estimation of the variance between sources and its interval by the generalised Q statistic.</summary>
internal static class BetweenVariance
{
    private const int GridSteps = 80;
    private const double SmallestShare = 1e-6;

    internal static double Estimate(SourceEstimates sources, BetweenVarianceMethod method)
        => method == BetweenVarianceMethod.DerSimonianLaird ? Moments(sources) : RestrictedLikelihood(sources);

    /// <summary>Q(t) falls as t rises; the interval holds the values of t for which Q(t) lies between the chi-square quantiles.</summary>
    internal static ConfidenceInterval Interval(SourceEstimates sources, double level)
    {
        double df = sources.Count - 1;
        double tail = (1 - level) / 2;
        return new ConfidenceInterval(Solve(sources, ChiSquared.UpperQuantile(tail, df)), Solve(sources, ChiSquared.Quantile(tail, df)), level);
    }

    private static double Moments(SourceEstimates sources)
    {
        PooledSums fixedSums = sources.At(0);
        return Math.Max(0, (fixedSums.Dispersion - (sources.Count - 1)) / (fixedSums.Weights - (fixedSums.SquaredWeights / fixedSums.Weights)));
    }

    // The likelihood may have two tops, so a grid finds the higher one before the root of the score is taken next to it.
    private static double RestrictedLikelihood(SourceEstimates sources)
    {
        double high = Math.Max(sources.LargestSquaredDistance, SmallestShare * sources.LargestVariance);
        double[] grid = new double[GridSteps + 1];
        int best = 0;
        double bestValue = sources.At(0).RestrictedLogLikelihood;
        for (int i = 1; i <= GridSteps; i++)
        {
            grid[i] = high * Math.Pow(SmallestShare, (GridSteps - i) / (GridSteps - 1.0));
            double value = sources.At(grid[i]).RestrictedLogLikelihood;
            if (value > bestValue)
                (best, bestValue) = (i, value);
        }
        double Score(double t) => sources.At(t).RestrictedScore;
        double low = best == 0 ? 0 : grid[best - 1];
        double top = best == GridSteps ? 2 * high : grid[best + 1];
        return Score(low) <= 0 ? low : BracketedRoot.Find(Score, low, top);
    }

    private static double Solve(SourceEstimates sources, double target)
    {
        if (sources.At(0).Dispersion <= target)
            return 0;
        double high = Math.Max(sources.LargestSquaredDistance, sources.LargestVariance);
        while (sources.At(high).Dispersion > target)
            high *= 4;
        return BracketedRoot.Find(t => sources.At(t).Dispersion - target, 0, high);
    }
}
