using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Agreement;

/// <summary>Cohen's kappa of two raters, with or without weights.</summary>
/// <remarks>
/// <para>kappa = (po - pe) / (1 - pe), po = sum w_ij p_ij, pe = sum w_ij p_i. p_.j, with agreement weights
/// (<see cref="AgreementWeights"/>; Cohen's disagreement weights are turned round there and give the same kappa). Quadratic weights
/// give nearly the intraclass correlation of absolute agreement.</para>
/// <para>The standard error of the interval is Fleiss, Cohen and Everitt's (1969) large-sample one for kappa as it is; the
/// p value uses their standard error under no agreement beyond chance. Rows are assumed independent: for two rows per person
/// take the person bootstrap. Kappa depends on how common the categories are; see <see cref="GwetAgreement"/> where one is rare.</para>
/// <para>Edges: a category that neither used is harmless; both raters constant in the same category is refused, since chance
/// agreement is then complete.</para>
/// <para><b>Sources.</b> Cohen J, Psychol Bull 1968;70:213-220; Fleiss JL, Cohen J, Everitt BS, Psychol Bull 1969;72:323-327.
/// <b>Checked against</b> Agreement/cohen_1968_kappa.</para>
/// </remarks>
public static class WeightedKappa
{
    /// <summary>Estimates from two raters' categories, coded 0 to k - 1.</summary>
    public static AgreementCoefficient Estimate(IReadOnlyList<int> first, IReadOnlyList<int> second, AgreementWeights weights, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.SameLength(second.Count, first.Count, "second rater");
        int k = weights.Categories;
        double[] counts = new double[k * k];
        for (int i = 0; i < first.Count; i++)
        {
            if (first[i] < 0 || first[i] >= k || second[i] < 0 || second[i] >= k)
                throw new InvalidInputError($"category {first[i]} or {second[i]} in row {i} is outside 0 to {k - 1}", "Code categories from 0 in their order.", i);
            counts[(first[i] * k) + second[i]]++;
        }
        return FromTable(counts, weights, level);
    }

    /// <summary>Estimates from a table of counts, first rater in rows, row by row, k squared values.</summary>
    /// <exception cref="TooFewDataError">Fewer than two subjects, or chance agreement is complete.</exception>
    public static AgreementCoefficient FromTable(IReadOnlyList<double> counts, AgreementWeights weights, double level = ConfidenceInterval.DefaultLevel)
    {
        Require.Probability(level, nameof(level));
        int k = weights.Categories;
        double[] p = [.. counts];
        Require.SameLength(p.Length, k * k, "table");
        Require.Finite(p, "table");
        Require.AtLeast(p, 0, "table");
        double n = p.Sum();
        if (n < 2)
            throw new TooFewDataError($"{n} subjects are too few", "Give two subjects at the very least.");
        double[] row = new double[k];
        double[] column = new double[k];
        for (int c = 0; c < p.Length; c++)
        {
            p[c] /= n;
            row[c / k] += p[c];
            column[c % k] += p[c];
        }
        return FromShares(p, row, column, n, weights, level);
    }

    private static AgreementCoefficient FromShares(double[] p, double[] row, double[] column, double n, AgreementWeights w, double level)
    {
        int k = w.Categories;
        double observed = 0;
        double expected = 0;
        double[] rowWeight = new double[k];
        double[] columnWeight = new double[k];
        for (int c = 0; c < p.Length; c++)
        {
            (int i, int j) = (c / k, c % k);
            observed += w[i, j] * p[c];
            expected += w[i, j] * row[i] * column[j];
            rowWeight[i] += w[i, j] * column[j];
            columnWeight[j] += w[i, j] * row[i];
        }
        if (1 - expected < 1e-14)
            throw new TooFewDataError("both raters used one and the same category, so chance agreement is complete", "Report the observed agreement; kappa needs categories that vary.");
        double kappa = (observed - expected) / (1 - expected);
        double own = 0;
        double none = 0;
        for (int c = 0; c < p.Length; c++)
        {
            (int i, int j) = (c / k, c % k);
            double margins = rowWeight[i] + columnWeight[j];
            double term = w[i, j] - (margins * (1 - kappa));
            own += p[c] * term * term;
            none += row[i] * column[j] * (w[i, j] - margins) * (w[i, j] - margins);
        }
        double centre = kappa - (expected * (1 - kappa));
        double scale = (1 - expected) * Math.Sqrt(n);
        double error = Math.Sqrt(Math.Max(0, own - (centre * centre))) / scale;
        double nullError = Math.Sqrt(Math.Max(0, none - (expected * expected))) / scale;
        Estimate value = Statistics.Estimate.Wald("kappa", kappa, error, level: level) with { PValue = StandardNormal.TwoSidedPValue(kappa / nullError) };
        return new AgreementCoefficient($"kappa, {w.Name} weights", (int)Math.Round(n), observed, expected, value, nullError);
    }
}
