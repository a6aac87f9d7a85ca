using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Mixed;

/// <summary>Predictions from a fitted linear mixed model: random effects, fitted values, new rows.</summary>
internal sealed class MixedPredictor
{
    private readonly LinearMixedModelFit fit;
    private readonly BlockInverse solutions;
    private readonly double[][] factors;
    private readonly MixedCrossProducts products;
    private readonly double[] fitted;
    private readonly double[] residuals;

    internal MixedPredictor(LinearMixedModelFit fit)
    {
        this.fit = fit;
        solutions = fit.Deviance.Solutions(fit.Point.Theta);
        products = fit.Deviance.Products;
        factors = new double[fit.Terms.Count][];
        for (int t = 0; t < factors.Length; t++)
            factors[t] = fit.Deviance.Covariance.ScaledFactor(t, fit.Point.Theta);
        fitted = new double[fit.Rows];
        residuals = new double[fit.Rows];
        FillFitted();
    }

    internal IReadOnlyList<double> Fitted => fitted;

    internal IReadOnlyList<double> Residuals => residuals;

    /// <summary>All effects of one term.</summary>
    internal List<RandomEffect> Effects(int term)
    {
        RandomTerm definition = fit.Terms[term];
        int q = definition.Size;
        List<RandomEffect> effects = new(definition.Groups.Count * q);
        double[] spherical = new double[q];
        double[] covariance = new double[q * q];
        for (int g = 0; g < definition.Groups.Count; g++)
        {
            Spherical(term, g, spherical);
            OwnInverse(term, g, covariance);
            for (int i = 0; i < q; i++)
            {
                double value = 0;
                double variance = 0;
                for (int k = 0; k <= i; k++)
                {
                    value += factors[term][(i * q) + k] * spherical[k];
                    for (int m = 0; m <= i; m++)
                        variance += factors[term][(i * q) + k] * covariance[(k * q) + m] * factors[term][(i * q) + m];
                }
                effects.Add(new RandomEffect(g, definition.ColumnName(i), value, Math.Sqrt(fit.ResidualVariance * variance)));
            }
        }
        return effects;
    }

    /// <summary>The mean of a new row and the variance of its error of prediction, without the residual.</summary>
    /// <param name="x">Fixed columns, length p.</param>
    /// <param name="groups">Per term, the group, or null for a group that was not seen.</param>
    /// <param name="z">Per term, the multipliers of its effects.</param>
    internal (double Mean, double Variance) Predict(double[] x, int?[] groups, double[][] z)
    {
        int p = x.Length;
        double mean = 0;
        for (int j = 0; j < p; j++)
            mean += x[j] * fit.Coefficients.Values[j];
        double[] inBasis = fit.Deviance.Basis.ContrastInBasis(x);
        double unseen = 0;
        double[][] weights = new double[groups.Length][];
        for (int t = 0; t < groups.Length; t++)
        {
            weights[t] = Spread(t, z[t]);
            if (groups[t] is not int group)
            {
                unseen += weights[t].Sum(w => w * w);
                continue;
            }
            ReadOnlySpan<double> u = Solution(t, group);
            for (int k = 0; k < weights[t].Length; k++)
            {
                ReadOnlySpan<double> row = u.Slice(k * products.Fixed, products.Fixed);
                mean += weights[t][k] * Combine(row);
                for (int j = 0; j < p; j++)
                    inBasis[j] -= row[j] * weights[t][k];
            }
        }
        double variance = unseen + ErrorOfKnown(groups, weights, inBasis);
        return (mean, fit.ResidualVariance * variance);
    }

    // Variance of the error of prediction from the known groups and the fixed effects, in units of the residual variance.
    private double ErrorOfKnown(int?[] groups, double[][] weights, double[] inBasis)
    {
        double variance = 0;
        int p = inBasis.Length;
        for (int i = 0; i < p; i++)
        {
            for (int j = 0; j < p; j++)
                variance += inBasis[i] * fit.Point.InverseInformation[(i * p) + j] * inBasis[j];
        }
        for (int s = 0; s < groups.Length; s++)
        {
            for (int t = 0; t < groups.Length; t++)
            {
                if (groups[s] is int a && groups[t] is int b)
                    variance += Quadratic(s, a, weights[s], t, b, weights[t]);
            }
        }
        return variance;
    }

    /// <summary>New rows, one by one.</summary>
    internal List<MixedPrediction> Predict(DesignMatrix x, RandomTermRows[] rows, double level)
    {
        double quantile = StandardNormal.Quantile(0.5 + (level / 2));
        List<MixedPrediction> predictions = new(x.Rows);
        for (int i = 0; i < x.Rows; i++)
        {
            double[] row = new double[x.Columns];
            for (int j = 0; j < row.Length; j++)
                row[j] = x[i, j];
            double[][] z = [.. rows.Select(r => Enumerable.Range(0, r.Columns?.Columns ?? 1).Select(c => r.Columns is null ? 1 : r.Columns[i, c]).ToArray())];
            (double mean, double variance) = Predict(row, [.. rows.Select(r => r.Groups[i])], z);
            double half = quantile * Math.Sqrt(variance);
            double wide = quantile * Math.Sqrt(variance + fit.ResidualVariance);
            predictions.Add(new MixedPrediction(mean, new ConfidenceInterval(mean - half, mean + half, level), new ConfidenceInterval(mean - wide, mean + wide, level)));
        }
        return predictions;
    }

    /// <summary>Whether the groups named for a row of nested terms lie within one another as in the data.</summary>
    internal bool IsConsistent(int?[] groups)
    {
        int?[] positions = [.. groups.Select((g, t) => g is int known ? products.Hierarchy.Position[t][known] : (int?)null)];
        for (int level = 1; level < products.Levels; level++)
        {
            int? child = positions[products.Hierarchy.Chain[level - 1]];
            int? parent = positions[products.Hierarchy.Chain[level]];
            int[] start = products.Hierarchy.ChildStart[level];
            if (child is int c && !(parent is int k && c >= start[k] && c < start[k + 1]))
                return false;
        }
        return true;
    }

    // L'z: the weights of the independent effects of unit variance.
    private double[] Spread(int term, double[] z)
    {
        int q = z.Length;
        double[] weights = new double[q];
        for (int k = 0; k < q; k++)
        {
            for (int i = k; i < q; i++)
                weights[k] += factors[term][(i * q) + k] * z[i];
        }
        return weights;
    }

    // The effects' solution for the outcome less that for the fixed columns times their coefficients.
    private double Combine(ReadOnlySpan<double> solution)
    {
        double sum = solution[^1];
        for (int j = 0; j < solution.Length - 1; j++)
            sum -= solution[j] * fit.Point.FixedInBasis[j];
        return sum;
    }

    private void Spherical(int term, int group, Span<double> result)
    {
        ReadOnlySpan<double> solution = Solution(term, group);
        for (int k = 0; k < result.Length; k++)
            result[k] = Combine(solution.Slice(k * products.Fixed, products.Fixed));
    }

    private ReadOnlySpan<double> Solution(int term, int group)
    {
        int length = fit.Terms[term].Size * products.Fixed;
        int level = Level(term);
        return level >= 0
            ? solutions.Solution[level].AsSpan(products.Hierarchy.Position[term][group] * length, length)
            : solutions.CrossedSolution.AsSpan(CrossedStart(term, group) * products.Fixed, length);
    }

    private void OwnInverse(int term, int group, Span<double> result)
    {
        int q = fit.Terms[term].Size;
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
                result[(i * q) + j] = InverseEntry(term, group, i, term, group, j);
        }
    }

    private double Quadratic(int s, int a, double[] left, int t, int b, double[] right)
    {
        double sum = 0;
        for (int i = 0; i < left.Length; i++)
        {
            for (int j = 0; j < right.Length; j++)
                sum += left[i] * InverseEntry(s, a, i, t, b, j) * right[j];
        }
        return sum;
    }

    // C between two effects; kept with the finer of the two groups, whose front holds the other.
    private double InverseEntry(int s, int a, int i, int t, int b, int j)
    {
        int first = Level(s);
        int second = Level(t);
        if (first < 0 || (second >= 0 && second < first))
            return second < 0
                ? solutions.CrossedInverse[((CrossedStart(s, a) + i) * products.CrossedColumns) + CrossedStart(t, b) + j]
                : InverseEntry(t, b, j, s, a, i);
        int random = products.Sizes[first] + products.RandomFront(first);
        int column = second >= 0 ? products.AncestorStart(first, second) + j : products.CrossedStart(first) + CrossedStart(t, b) + j;
        long node = products.Hierarchy.Position[s][a];
        return solutions.Inverse[first][(((node * products.Sizes[first]) + i) * random) + column];
    }

    private int Level(int term) => Array.IndexOf(products.Hierarchy.Chain, term);

    private int CrossedStart(int term, int group)
    {
        int start = 0;
        foreach (int t in products.Hierarchy.Crossed)
        {
            if (t == term)
                return start + (group * fit.Terms[t].Size);
            start += fit.Terms[t].Size * fit.Terms[t].Groups.Count;
        }
        return -1;
    }

    private void FillFitted()
    {
        double[] b = [.. fit.Coefficients.Values];
        Solvers.CrossProduct.LinearPredictor(fit.Design, b, [], fitted);
        for (int t = 0; t < fit.Terms.Count; t++)
        {
            RandomTerm term = fit.Terms[t];
            int q = term.Size;
            double[] effects = new double[term.Groups.Count * q];
            double[] spherical = new double[q];
            for (int g = 0; g < term.Groups.Count; g++)
            {
                Spherical(t, g, spherical);
                for (int i = 0; i < q; i++)
                {
                    for (int k = 0; k <= i; k++)
                        effects[(g * q) + i] += factors[t][(i * q) + k] * spherical[k];
                }
            }
            for (int i = 0; i < fitted.Length; i++)
            {
                for (int c = 0; c < q; c++)
                    fitted[i] += term.Multiplier(i, c) * effects[(term.Groups.ClusterOfRow[i] * q) + c];
            }
        }
        for (int i = 0; i < fitted.Length; i++)
            residuals[i] = fit.Outcome[i] - fitted[i];
    }
}
