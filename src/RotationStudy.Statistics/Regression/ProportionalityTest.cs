using RotationStudy.Statistics.Distributions;
using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Regression;

/// <summary>The Wald test of Brant (1990) that the odds ratios of an ordered outcome are the same at every cut of the scale.</summary>
/// <remarks>
/// <para>Each cut is fitted as a binary logistic regression of "above the cut". Their coefficients b_1 .. b_(K-1) are dependent, with
/// Cov(b_j, b_l) = (X'W_j X)^-1 X'W_jl X (X'W_l X)^-1, W_j = m_j (1 - m_j) and W_jl = m_l (1 - m_j) for a higher cut l, m the fitted probabilities of being above; here m
/// are those of the binary fits. With clusters the covariance is the sandwich of the stacked scores times G/(G-1). The test compares every cut with the first: a
/// chi-square with (K - 2) p degrees of freedom, and K - 2 for one column.</para>
/// <para><b>Edges</b>: a cut with few rows on one side may be separated, which is an error that names the columns: join categories then. Two categories have one
/// cut and nothing to test. With many rows trivial departures are significant: look at the odds ratios by cut.</para>
/// <para><b>Source</b>: Brant R. Biometrics 1990;46:1171-1178. <b>Checked against</b>: Ordinal/proportionality.</para>
/// </remarks>
public static class ProportionalityTest
{
    /// <summary>Tests proportionality.</summary>
    /// <param name="x">Design, n by p, without intercept.</param>
    /// <param name="categories">Category of each row, a position in <paramref name="labels"/>.</param>
    /// <param name="labels">Names of the ordered categories, lowest first.</param>
    /// <param name="clusters">Which rows may be dependent; null takes all as independent.</param>
    /// <param name="weights">Case weights per row, zero or more, or none.</param>
    /// <exception cref="InvalidInputError">An intercept, a category without label, lengths that do not agree.</exception>
    /// <exception cref="TooFewDataError">Fewer than three categories occur, one cluster.</exception>
    /// <exception cref="SeparationError">The columns split the outcome at some cut.</exception>
    public static ProportionalityResult Brant(
        DesignMatrix x, ReadOnlySpan<int> categories, IReadOnlyList<string> labels, Clusters? clusters = null, ReadOnlySpan<double> weights = default)
    {
        OrderedOutcome outcome = OrderedOutcome.Check(x, categories, labels, weights);
        int cuts = outcome.Categories.Count - 1;
        if (cuts < 2)
            throw new TooFewDataError("two categories have one cut and nothing to compare", "Proportionality is a question for three categories or more.");
        DesignMatrix sorted = WithIntercept(x.SelectRows(outcome.Order));
        double[] caseWeights = outcome.SortedWeights(weights);
        GeneralizedLinearFit[] fits = [.. Enumerable.Range(0, cuts).Select(k => FitCut(sorted, outcome, k, caseWeights))];
        Clusters? sortedClusters = clusters?.SelectRows(outcome.Order);
        double[] covariance = sortedClusters is null ? ModelBased(sorted, fits, caseWeights) : Sandwich(sorted, fits, sortedClusters);
        int p = x.Columns;
        TestResult[] byColumn = [.. Enumerable.Range(0, p).Select(j => Wald($"Wald chi-square, equal at every cut: {x.Names[j]}", fits, covariance, [j]))];
        return new ProportionalityResult(
            Wald("Wald chi-square of proportionality, Brant", fits, covariance, [.. Enumerable.Range(0, p)]),
            byColumn,
            [.. outcome.Categories.SkipLast(1).Select(c => $"above {c}")],
            fits);
    }

    private static DesignMatrix WithIntercept(DesignMatrix x)
        => DesignMatrix.WithIntercept([.. Enumerable.Range(0, x.Columns).Select(j => (x.Names[j], (IReadOnlyList<double>)x.Column(j).ToArray()))]);

    private static GeneralizedLinearFit FitCut(DesignMatrix sorted, OrderedOutcome outcome, int cut, double[] weights)
    {
        double[] above = new double[sorted.Rows];
        above.AsSpan(outcome.Start[cut + 1]).Fill(1);
        return LogisticRegression.Fit(sorted, above, weights: weights);
    }

    // Covariance of all coefficients of all cuts, intercepts included, cut after cut.
    private static double[] ModelBased(DesignMatrix x, GeneralizedLinearFit[] fits, double[] weights)
    {
        int q = x.Columns;
        int size = q * fits.Length;
        double[] covariance = new double[size * size];
        double[] w = new double[x.Rows];
        double[] middle = new double[q * q];
        for (int j = 0; j < fits.Length; j++)
        {
            for (int l = j; l < fits.Length; l++)
            {
                for (int i = 0; i < w.Length; i++)
                    w[i] = (weights.Length == 0 ? 1 : weights[i]) * fits[l].FittedMeans[i] * (1 - fits[j].FittedMeans[i]);
                CrossProduct.Weighted(x, w, middle);
                double[] block = SmallMatrix.Product(
                    SmallMatrix.Product(fits[j].ModelBasedCovariance.Values, middle, q, q, q), fits[l].ModelBasedCovariance.Values, q, q, q);
                Place(covariance, size, q, j, l, block);
            }
        }
        return covariance;
    }

    private static double[] Sandwich(DesignMatrix x, GeneralizedLinearFit[] fits, Clusters clusters)
    {
        if (clusters.Count < 2)
            throw new TooFewDataError($"{clusters.Count} cluster gives no variance between clusters", "Name clusters that repeat, or take rows as independent.");
        int q = x.Columns;
        int g = clusters.Count;
        int size = q * fits.Length;
        double[][] moves = new double[fits.Length][];
        for (int k = 0; k < fits.Length; k++)
        {
            // The pull of each cluster on the coefficients of this cut, G by q column after column.
            double[] sums = ClusterRobustCovariance.ScoreSums(x.Values, q, fits[k].Working.ScoreResiduals, clusters);
            moves[k] = new double[g * q];
            for (int a = 0; a < q; a++)
            {
                for (int c = 0; c < q; c++)
                    CrossProduct.AddScaled(sums.AsSpan(c * g, g), fits[k].ModelBasedCovariance[a, c], moves[k].AsSpan(a * g, g));
            }
        }
        double[] covariance = new double[size * size];
        double[] block = new double[q * q];
        for (int j = 0; j < fits.Length; j++)
        {
            for (int l = j; l < fits.Length; l++)
            {
                for (int a = 0; a < q; a++)
                {
                    for (int c = 0; c < q; c++)
                        block[(a * q) + c] = g / (g - 1.0) * CrossProduct.Dot(moves[j].AsSpan(a * g, g), moves[l].AsSpan(c * g, g));
                }
                Place(covariance, size, q, j, l, block);
            }
        }
        return covariance;
    }

    private static void Place(double[] covariance, int size, int q, int j, int l, double[] block)
    {
        for (int a = 0; a < q; a++)
        {
            for (int c = 0; c < q; c++)
                covariance[(((j * q) + a) * size) + (l * q) + c] = covariance[(((l * q) + c) * size) + (j * q) + a] = block[(a * q) + c];
        }
    }

    // Differences of the chosen columns between each later cut and the first; +1 skips the intercept of each cut.
    private static TestResult Wald(string name, GeneralizedLinearFit[] fits, double[] covariance, int[] columns)
    {
        int q = fits[0].Coefficients.Values.Count;
        int size = q * fits.Length;
        int tests = columns.Length * (fits.Length - 1);
        double[] difference = new double[tests];
        double[] variance = new double[tests * tests];
        int[] later = new int[tests];
        int[] first = new int[tests];
        for (int t = 0; t < tests; t++)
        {
            int cut = 1 + (t / columns.Length);
            int column = 1 + columns[t % columns.Length];
            (later[t], first[t]) = ((cut * q) + column, column);
            difference[t] = fits[cut].Coefficients.Values[column] - fits[0].Coefficients.Values[column];
        }
        for (int s = 0; s < tests; s++)
        {
            for (int t = 0; t < tests; t++)
            {
                variance[(s * tests) + t] = covariance[(later[s] * size) + later[t]] - covariance[(later[s] * size) + first[t]]
                    - covariance[(first[s] * size) + later[t]] + covariance[(first[s] * size) + first[t]];
            }
        }
        string[] names = [.. Enumerable.Range(0, tests).Select(t => $"{fits[0].Coefficients.Terms[first[t]]} at cut {1 + (later[t] / q)}")];
        double[] solved = SmallCholesky.Factor(variance, tests, names).Solve(difference);
        double statistic = CrossProduct.Dot(difference, solved);
        return new TestResult(name, statistic, tests, double.PositiveInfinity, ChiSquared.UpperTail(statistic, tests));
    }
}
