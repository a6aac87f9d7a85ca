namespace RotationStudy.Statistics.Pooling;

/// <summary>Independent estimates of the same quantity with their sampling variances, checked once, and the sums that pooling them needs.</summary>
internal sealed class SourceEstimates
{
    private readonly double[] estimates;
    private readonly double[] variances;

    private SourceEstimates(double[] estimates, double[] variances)
    {
        this.estimates = estimates;
        this.variances = variances;
    }

    internal int Count => estimates.Length;

    /// <summary>The within-source variance that stands for all of them in I squared (Higgins and Thompson 2002, equation 9).</summary>
    internal double TypicalVariance
    {
        get
        {
            double sum = 0;
            double squares = 0;
            foreach (double v in variances)
            {
                sum += 1 / v;
                squares += 1 / (v * v);
            }
            return (Count - 1) * sum / ((sum * sum) - squares);
        }
    }

    internal double LargestSquaredDistance
    {
        get
        {
            double range = estimates.Max() - estimates.Min();
            return range * range;
        }
    }

    internal double LargestVariance => variances.Max();

    internal static SourceEstimates From(IReadOnlyList<double> estimates, IReadOnlyList<double> standardErrors)
    {
        double[] values = [.. estimates];
        double[] errors = [.. standardErrors];
        if (values.Length != errors.Length)
            throw new InvalidInputError($"{values.Length} estimates have {errors.Length} standard errors", "Give one standard error per estimate.");
        Require.Finite(values, "estimates");
        Require.Finite(errors, "standard errors");
        int wrong = Array.FindIndex(errors, e => e <= 0);
        if (wrong >= 0)
            throw new InvalidInputError($"the standard error of estimate {wrong} is {errors[wrong]}, not above zero", "Leave a source without a standard error out.", wrong, "standard errors");
        if (values.Length < 2)
            throw new TooFewDataError($"{values.Length} estimate cannot show how sources differ", "Pool two or more; with one source its own estimate is the answer.");
        return new SourceEstimates(values, [.. errors.Select(e => e * e)]);
    }

    internal SourceEstimates Without(int source)
        => new([.. estimates.Where((_, i) => i != source)], [.. variances.Where((_, i) => i != source)]);

    /// <summary>Weighted sums at one between-source variance.</summary>
    internal PooledSums At(double between)
    {
        double weights = 0;
        double squares = 0;
        double total = 0;
        double logs = 0;
        for (int i = 0; i < Count; i++)
        {
            double w = 1 / (variances[i] + between);
            weights += w;
            squares += w * w;
            total += w * estimates[i];
            logs += Math.Log(w);
        }
        double mean = total / weights;
        double q = 0;
        double q2 = 0;
        for (int i = 0; i < Count; i++)
        {
            double w = 1 / (variances[i] + between);
            double d = estimates[i] - mean;
            q += w * d * d;
            q2 += w * w * d * d;
        }
        return new PooledSums(mean, weights, squares, q, 0.5 * (logs - Math.Log(weights) - q), 0.5 * (q2 - weights + (squares / weights)));
    }

    /// <summary>The share of each source in the pooled mean; they sum to one.</summary>
    internal double[] Shares(double between)
    {
        double weights = At(between).Weights;
        return [.. variances.Select(v => 1 / (v + between) / weights)];
    }
}

/// <summary>Sums at one between-source variance t, with weights w = 1 / (v + t).</summary>
/// <param name="Mean">Weighted mean.</param>
/// <param name="Weights">Sum of w.</param>
/// <param name="SquaredWeights">Sum of w squared.</param>
/// <param name="Dispersion">Sum of w times the squared distance from the mean: Cochran's Q where t is zero.</param>
/// <param name="RestrictedLogLikelihood">Restricted log-likelihood without its constant.</param>
/// <param name="RestrictedScore">Its derivative by t.</param>
internal readonly record struct PooledSums(
    double Mean, double Weights, double SquaredWeights, double Dispersion, double RestrictedLogLikelihood, double RestrictedScore);
