namespace RotationStudy.Statistics.Mixed;

/// <summary>The way back after <see cref="BlockElimination"/>: the parts of Omega^-1 that derivatives and predictions need.</summary>
/// <remarks>
/// With C = Omega^-1, U = C L'Z'[X y] and s = Z'V^-1[X y], per term with effects g:
/// d log|Omega| / d L(a,b) = 2 sum over g of (C L'Z'Z)(b,a), and d S(j,k) / d L(a,b) = -sum over g of s(a,j) U(b,k) + s(a,k) U(b,j),
/// S being the Schur complement [X y]'V^-1[X y]. Only blocks of C between a group and the groups that hold it are needed
/// (the sparse-inverse recurrences of Takahashi, Fagan &amp; Chen 1973), so time and memory are linear in the groups.
/// No factor is inverted, hence a variance of zero is nothing special.
/// </remarks>
internal sealed class BlockInverse
{
    private readonly BlockElimination elimination;
    private readonly MixedCrossProducts products;
    private readonly double[] crossedInverse;
    private readonly double[] crossedSolution;

    internal BlockInverse(BlockElimination elimination, int terms, bool keep)
    {
        this.elimination = elimination;
        products = elimination.Products;
        int d = products.CrossedColumns;
        crossedInverse = new double[d * d];
        crossedSolution = new double[d * products.Fixed];
        SolveCrossed();
        if (keep)
        {
            Inverse = new double[products.Levels][];
            Solution = new double[products.Levels][];
            for (int level = 0; level < products.Levels; level++)
            {
                Inverse[level] = new double[(long)products.Counts[level] * products.Sizes[level] * (products.Width(level) - products.Fixed)];
                Solution[level] = new double[(long)products.Counts[level] * products.Sizes[level] * products.Fixed];
            }
        }
        DescentSums[] done = new DescentSums[elimination.Chunks];
        elimination.ForEachChunk((chunk, from, to) =>
        {
            DescentSums sums = new(products, terms);
            BlockDescent descent = new(this, sums);
            for (int root = from; root < to; root++)
                descent.Descend(products.Levels - 1, root);
            done[chunk] = sums;
        });
        Total = done[0];
        for (int c = 1; c < done.Length; c++)
            Total.Add(done[c]);
        FinishCrossed();
    }

    internal BlockElimination Elimination => elimination;

    /// <summary>Per chain level and group, C between its own columns and [own, random front]: q by (q + front). Empty unless kept.</summary>
    internal double[][] Inverse { get; } = [];

    /// <summary>Per chain level and group, U: q by (p + 1). Empty unless kept.</summary>
    internal double[][] Solution { get; } = [];

    /// <summary>C between the crossed columns.</summary>
    internal double[] CrossedInverse => crossedInverse;

    /// <summary>U of the crossed columns, by (p + 1).</summary>
    internal double[] CrossedSolution => crossedSolution;

    /// <summary>The sums over groups that the derivatives are made of.</summary>
    internal DescentSums Total { get; }

    // C = (R'R)^-1 and U = R^-1 (reduced fixed columns), R the upper factor of the crossed columns.
    private void SolveCrossed()
    {
        int d = products.CrossedColumns;
        int size = products.DenseSize;
        int p = products.Fixed;
        ReadOnlySpan<double> dense = elimination.Dense;
        double[] root = new double[d * d];
        for (int i = d - 1; i >= 0; i--)
        {
            Span<double> row = root.AsSpan(i * d, d);
            row[i] = 1;
            Span<double> solution = crossedSolution.AsSpan(i * p, p);
            dense.Slice((i * size) + d, p).CopyTo(solution);
            for (int k = i + 1; k < d; k++)
            {
                double f = dense[(i * size) + k];
                for (int c = k; c < d; c++)
                    row[c] -= f * root[(k * d) + c];
                for (int c = 0; c < p; c++)
                    solution[c] -= f * crossedSolution[(k * p) + c];
            }
            double pivot = dense[(i * size) + i];
            for (int c = i; c < d; c++)
                row[c] /= pivot;
            for (int c = 0; c < p; c++)
                solution[c] /= pivot;
        }
        for (int i = 0; i < d; i++)
        {
            for (int j = i; j < d; j++)
                crossedInverse[(i * d) + j] = crossedInverse[(j * d) + i] = Solvers.CrossProduct.Dot(root.AsSpan((i * d) + j, d - j), root.AsSpan((j * d) + j, d - j));
        }
    }

    // The crossed terms' own share of the sums, from the dense block; the chain's share came from the groups.
    private void FinishCrossed()
    {
        int d = products.CrossedColumns;
        int size = products.DenseSize;
        int p = products.Fixed;
        double[] scaled = new double[d];
        foreach ((int term, int start, int q) in products.CrossedBlocks)
        {
            Span<double> trace = Total.Trace[term];
            Span<double> s = Total.CrossedScore.AsSpan(start * p, q * p);
            for (int j = 0; j < q; j++)
            {
                products.Dense.AsSpan((start + j) * size, d).CopyTo(scaled);
                foreach ((int other, int at, int length) in products.CrossedBlocks)
                    BlockElimination.MultiplyRight(scaled.AsSpan(at, length), elimination.Factors[other]);
                for (int i = 0; i < q; i++)
                    trace[(i * q) + j] += Solvers.CrossProduct.Dot(crossedInverse.AsSpan((start + i) * d, d), scaled);
                for (int c = 0; c < p; c++)
                {
                    double sum = products.Dense[((start + j) * size) + d + c];
                    for (int k = 0; k < d; k++)
                        sum -= scaled[k] * crossedSolution[(k * p) + c];
                    s[(j * p) + c] += sum;
                }
            }
            Total.AddScore(term, s, crossedSolution.AsSpan(start * p, q * p));
        }
    }
}
