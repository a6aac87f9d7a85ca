using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>Several linear combinations C b of a regression's coefficients, to be tested at once: q rows of p weights.</summary>
public sealed class Contrasts
{
    private Contrasts(double[] values, int columns)
    {
        Values = values;
        Columns = columns;
    }

    /// <summary>Number of contrasts, q.</summary>
    public int Count => Values.Length / Columns;

    /// <summary>Number of coefficients, p.</summary>
    public int Columns { get; }

    /// <summary>C, row by row, length q times p.</summary>
    internal double[] Values { get; }

    /// <summary>The contrasts that pick out named coefficients: are they all zero?</summary>
    /// <exception cref="InvalidInputError">No name, or no coefficient has one of the names.</exception>
    public static Contrasts Of(Coefficients coefficients, params IReadOnlyList<string> terms)
    {
        int p = coefficients.Values.Count;
        double[] values = new double[terms.Count * p];
        for (int s = 0; s < terms.Count; s++)
            values[(s * p) + coefficients.IndexOf(terms[s])] = 1;
        return Checked(values, p);
    }

    /// <summary>Contrasts given as rows of weights, one weight per coefficient.</summary>
    /// <exception cref="InvalidInputError">No row, or rows of unequal length.</exception>
    public static Contrasts FromRows(params IReadOnlyList<IReadOnlyList<double>> rows)
    {
        int p = rows.Count == 0 ? 0 : rows[0].Count;
        List<double> values = [];
        foreach (IReadOnlyList<double> row in rows)
        {
            if (row.Count != p)
                throw new InvalidInputError($"a contrast has {row.Count} weights where the first has {p}", "Give one weight per coefficient.");
            values.AddRange(row);
        }
        return Checked([.. values], p);
    }

    /// <summary>The Wald statistic (Cb)' (C V C')^-1 (Cb), for the covariance that the coefficients carry.</summary>
    /// <exception cref="InvalidInputError">The contrasts are of another number of coefficients.</exception>
    /// <exception cref="RankDeficientError">The contrasts depend on one another.</exception>
    public double WaldStatistic(Coefficients coefficients)
    {
        Require.SameLength(coefficients.Values.Count, Columns, "coefficients");
        int q = Count;
        double[] value = new double[q];
        double[] half = SmallMatrix.Product(Values, coefficients.Covariance.Values, q, Columns, Columns);
        double[] covariance = new double[q * q];
        string[] names = new string[q];
        for (int s = 0; s < q; s++)
        {
            names[s] = $"contrast {s + 1}";
            for (int i = 0; i < Columns; i++)
                value[s] += Values[(s * Columns) + i] * coefficients.Values[i];
            for (int t = 0; t < q; t++)
                covariance[(s * q) + t] = CrossProduct.Dot(half.AsSpan(s * Columns, Columns), Row(t));
        }
        return CrossProduct.Dot(value, SmallCholesky.Factor(covariance, q, names).Solve(value));
    }

    /// <summary>One contrast, p weights.</summary>
    internal ReadOnlySpan<double> Row(int contrast) => Values.AsSpan(contrast * Columns, Columns);

    private static Contrasts Checked(double[] values, int columns)
    {
        if (values.Length == 0)
            throw new InvalidInputError("no contrast is given", "Name a coefficient, or give a row of weights.");
        Require.Finite(values, "contrasts");
        return new Contrasts(values, columns);
    }
}
