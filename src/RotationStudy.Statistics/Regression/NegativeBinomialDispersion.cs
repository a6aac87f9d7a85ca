using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Regression;

/// <summary>The part of the negative binomial log-likelihood that depends on the dispersion alpha, and its derivatives.</summary>
/// <remarks>
/// Per row, l = sum over j below y of log(1 + alpha j) + y eta - (y + 1/alpha) log(1 + alpha m) - log y!. The first sum needs only the
/// number of rows with counts above j, so that its cost is the largest count, not the number of rows. Written in alpha, nothing cancels as
/// alpha goes to zero, the Poisson model.
/// </remarks>
internal sealed class NegativeBinomialDispersion
{
    private const double LargestCount = 1e7;
    private const double SeriesBelow = 0.01;

    private readonly GeneralizedLinearData data;
    private readonly double[] above;

    internal NegativeBinomialDispersion(GeneralizedLinearData data)
    {
        this.data = data;
        double largest = 0;
        foreach (double y in data.Outcome)
            largest = Math.Max(largest, y);
        if (largest > LargestCount)
            throw new InvalidInputError(FormattableString.Invariant($"'outcome' holds the count {largest}"), "Counts above ten million call for a model of continuous data.", column: "outcome");
        above = new double[(int)largest];
        for (int i = 0; i < data.Outcome.Length; i++)
        {
            if (data.Outcome[i] > 0)
                above[(int)data.Outcome[i] - 1] += data.Weights.IsEmpty ? 1 : data.Weights[i];
        }
        for (int j = above.Length - 2; j >= 0; j--)
            above[j] += above[j + 1];
    }

    /// <summary>Sum over rows of sum over j below y of log(1 + alpha j).</summary>
    internal double LogLikelihoodPart(double alpha)
    {
        double sum = 0;
        for (int j = 1; j < above.Length; j++)
            sum += above[j] * StableMath.Log1p(alpha * j);
        return sum;
    }

    /// <summary>dl/d alpha and d2l/d alpha2 at given linear predictors; the mixed derivatives by row go into 'cross'.</summary>
    internal (double First, double Second) Derivatives(double alpha, ReadOnlySpan<double> eta, Span<double> cross)
    {
        double first = 0;
        double second = 0;
        for (int j = 1; j < above.Length; j++)
        {
            double q = j / (1 + (alpha * j));
            first += above[j] * q;
            second -= above[j] * q * q;
        }
        ReadOnlySpan<double> y = data.Outcome;
        for (int i = 0; i < eta.Length; i++)
        {
            double weight = data.Weights.IsEmpty ? 1 : data.Weights[i];
            double m = Math.Exp(eta[i]);
            double z = alpha * m;
            double q = m / (1 + z);
            (double g, double slope) = Remainder(z);
            first += weight * ((m * m * g) - (y[i] * q));
            second += weight * ((m * m * m * slope) + (y[i] * q * q));
            cross[i] = -weight * (y[i] - m) * q / (1 + z);
        }
        return (first, second);
    }

    // g(z) = (log(1 + z) - z / (1 + z)) / z^2 and g'(z); by their series near zero, where the difference cancels.
    private static (double Value, double Slope) Remainder(double z)
    {
        if (z > SeriesBelow)
        {
            double g = (Math.Log(1 + z) - (z / (1 + z))) / (z * z);
            return (g, ((1 / ((1 + z) * (1 + z))) - (2 * g)) / z);
        }
        double value = 0;
        double slope = 0;
        double power = 1;
        for (int k = 0; k < 9; k++)
        {
            double term = (k + 1.0) / (k + 2.0);
            value += term * power;
            slope -= (k + 1) * ((k + 2.0) / (k + 3.0)) * power;
            power *= -z;
        }
        return (value, slope);
    }
}
