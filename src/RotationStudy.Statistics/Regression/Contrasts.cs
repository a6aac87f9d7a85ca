using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Several linear combinations C b of a regression's coefficients: their rows, and the Wald test that all are zero.</summary>
public static class Contrasts
{
    /// <summary>The rows of C that pick out named coefficients: q rows of p values, row by row.</summary>
    /// <exception cref="InvalidInputError">No coefficient has one of the names.</exception>
    public static double[] Of(Coefficients coefficients, params IReadOnlyList<string> terms)
    {
        int p = coefficients.Values.Count;
        double[] rows = new double[terms.Count * p];
        for (int s = 0; s < terms.Count; s++)
            rows[(s * p) + coefficients.IndexOf(terms[s])] = 1;
        return rows;
    }

    /// <summary>Number of contrasts q in q times p values.</summary>
    /// <exception cref="InvalidInputError">No row, or a number of values that is no multiple of p.</exception>
    internal static int Count(ReadOnlySpan<double> contrasts, int p)
    {
        if (contrasts.IsEmpty || contrasts.Length % p != 0)
            throw new InvalidInputError($"{contrasts.Length} values are no rows of contrasts of {p} coefficients", $"Give {p} values per contrast, row by row.");
        return contrasts.Length / p;
    }

    /// <summary>The Wald statistic (Cb)' (C V C')^-1 (Cb) of q contrasts given row by row.</summary>
    /// <exception cref="RankDeficientError">The contrasts depend on one another.</exception>
    internal static double WaldStatistic(Coefficients coefficients, ReadOnlySpan<double> contrasts)
    {
        int p = coefficients.Values.Count;
        int q = contrasts.Length / p;
        double[] value = new double[q];
        double[] half = SmallMatrix.Product(contrasts, coefficients.Covariance.Values, q, p, p);
        double[] covariance = new double[q * q];
        string[] names = new string[q];
        for (int s = 0; s < q; s++)
        {
            names[s] = $"contrast {s + 1}";
            for (int i = 0; i < p; i++)
                value[s] += contrasts[(s * p) + i] * coefficients.Values[i];
            for (int t = 0; t < q; t++)
                covariance[(s * q) + t] = CrossProduct.Dot(half.AsSpan(s * p, p), contrasts.Slice(t * p, p));
        }
        return CrossProduct.Dot(value, SmallCholesky.Factor(covariance, q, names).Solve(value));
    }

    internal static TestResult FTest(string name, double f, double numerator, double denominator)
        => new(name, f, numerator, denominator, FDistribution.UpperTail(f, numerator, denominator));
}
