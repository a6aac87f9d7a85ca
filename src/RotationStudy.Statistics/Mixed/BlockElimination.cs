namespace RotationStudy.Statistics.Mixed;

/// <summary>Gaussian elimination of all random effects at given variance parameters, group by group from the finest up.</summary>
/// <remarks>
/// The penalised system of Bates, Maechler, Bolker &amp; Walker (2015, sec. 3) is Omega = L'Z'ZL + I. A group's row block is
/// factored after its children and leaves its Schur complement on the groups that hold it and on the dense columns; the
/// rest is a dense block of crossed terms, fixed columns and outcome. Chunks of whole top groups run in parallel and are
/// added in a fixed order, so the result does not depend on the number of cores.
/// </remarks>
internal sealed class BlockElimination
{
    private const int MostChunks = 32;
    private const int WorkspaceValues = 1 << 22;
    private const int ParallelFrom = 2000;

    private readonly MixedCrossProducts products;
    private readonly double[][] reduced;
    private readonly double[] dense;

    internal BlockElimination(MixedCrossProducts products)
    {
        this.products = products;
        reduced = new double[products.Levels][];
        for (int level = 0; level < products.Levels; level++)
            reduced[level] = new double[(long)products.Counts[level] * products.NodeLength(level)];
        dense = new double[products.DenseSize * products.DenseSize];
    }

    internal MixedCrossProducts Products => products;

    /// <summary>Number of chunks: fixed by the data, and fewer where the dense block is large, so that memory stays bounded.</summary>
    internal int Chunks
    {
        get
        {
            int widest = products.Width(0);
            return Math.Clamp(WorkspaceValues / (widest * widest), 1, Math.Min(MostChunks, products.Counts[^1]));
        }
    }

    /// <summary>The factor L of each term, as last eliminated.</summary>
    internal double[][] Factors { get; private set; } = [];

    /// <summary>log |L'Z'ZL + I|.</summary>
    internal double LogDeterminant { get; private set; }

    /// <summary>
    /// The dense columns' triangular rows: upper factor and reduced front of the crossed columns; in the last p + 1 rows
    /// the Schur complement [X y]'V^-1[X y], V = I + ZLL'Z'.
    /// </summary>
    internal ReadOnlySpan<double> Dense => dense;

    /// <summary>A group's triangular rows after elimination: upper factor, then its reduced front.</summary>
    internal ReadOnlySpan<double> Reduced(int level, int node) => reduced[level].AsSpan(node * products.NodeLength(level), products.NodeLength(level));

    /// <summary>Splits the top groups into fixed chunks and runs a piece of work on each, in parallel where it pays.</summary>
    internal void ForEachChunk(Action<int, int, int> work)
    {
        int roots = products.Counts[^1];
        int chunks = Chunks;
        if (products.Counts[0] < ParallelFrom)
        {
            for (int c = 0; c < chunks; c++)
                work(c, First(c), First(c + 1));
            return;
        }
        Parallel.For(0, chunks, c => work(c, First(c), First(c + 1)));

        int First(int chunk) => (int)((long)roots * chunk / chunks);
    }

    internal void Eliminate(double[][] factors)
    {
        Factors = factors;
        Workspace[] done = new Workspace[Chunks];
        ForEachChunk((chunk, from, to) =>
        {
            Workspace w = new(products);
            for (int root = from; root < to; root++)
                EliminateNode(products.Levels - 1, root, w);
            done[chunk] = w;
        });
        TransformDense();
        LogDeterminant = 0;
        foreach (Workspace w in done)
        {
            LogDeterminant += w.LogDeterminant;
            for (int i = 0; i < dense.Length; i++)
                dense[i] -= w.Pending[products.Levels][i];
        }
        LogDeterminant += Triangularize(dense, products.CrossedColumns, products.DenseSize);
        ReduceFixed();
    }

    private void EliminateNode(int level, int node, Workspace w)
    {
        int q = products.Sizes[level];
        int width = products.Width(level);
        double[] pending = w.Pending[level];
        if (level > 0)
        {
            Array.Clear(pending);
            int[] start = products.Hierarchy.ChildStart[level];
            for (int child = start[node]; child < start[node + 1]; child++)
                EliminateNode(level - 1, child, w);
        }
        Span<double> block = reduced[level].AsSpan(node * q * width, q * width);
        products.Node(level, node).CopyTo(block);
        ScaleColumns(block, level);
        MultiplyLeft(Factors[products.Hierarchy.Chain[level]], block, q, width);
        for (int i = 0; i < q; i++)
        {
            block[(i * width) + i] += 1;
            for (int j = i; level > 0 && j < width; j++)
                block[(i * width) + j] -= pending[(i * width) + j];
        }
        w.LogDeterminant += Triangularize(block, q, width);
        PassOn(block, q, width, level > 0 ? pending : [], w.Pending[level + 1]);
    }

    // Adds the Schur complement of this group, and what its children left, to the groups that hold it.
    private static void PassOn(ReadOnlySpan<double> block, int q, int width, ReadOnlySpan<double> pending, Span<double> target)
    {
        int front = width - q;
        for (int a = 0; a < front; a++)
        {
            Span<double> row = target.Slice((a * front) + a, front - a);
            if (!pending.IsEmpty)
            {
                ReadOnlySpan<double> left = pending.Slice(((q + a) * width) + q + a, front - a);
                for (int b = 0; b < row.Length; b++)
                    row[b] += left[b];
            }
            for (int i = 0; i < q; i++)
            {
                ReadOnlySpan<double> f = block.Slice((i * width) + q + a, front - a);
                double fa = f[0];
                for (int b = 0; b < row.Length; b++)
                    row[b] += fa * f[b];
            }
        }
    }

    /// <summary>Multiplies the random columns of a group's block by the factors of their terms, on the right.</summary>
    internal void ScaleColumns(Span<double> block, int level)
    {
        int width = products.Width(level);
        for (int at = 0; at < block.Length; at += width)
        {
            Span<double> row = block.Slice(at, width);
            for (int a = level; a < products.Levels; a++)
                MultiplyRight(row.Slice(products.AncestorStart(level, a), products.Sizes[a]), Factors[products.Hierarchy.Chain[a]]);
            int crossed = products.CrossedStart(level);
            foreach ((int term, int start, int size) in products.CrossedBlocks)
                MultiplyRight(row.Slice(crossed + start, size), Factors[term]);
        }
    }

    /// <summary>row := row L, L lower triangular.</summary>
    internal static void MultiplyRight(Span<double> row, ReadOnlySpan<double> factor)
    {
        int q = row.Length;
        for (int j = 0; j < q; j++)
        {
            double sum = 0;
            for (int k = j; k < q; k++)
                sum += row[k] * factor[(k * q) + j];
            row[j] = sum;
        }
    }

    /// <summary>block := L' block, L lower triangular.</summary>
    internal static void MultiplyLeft(ReadOnlySpan<double> factor, Span<double> block, int q, int width)
    {
        for (int i = 0; i < q; i++)
        {
            Span<double> row = block.Slice(i * width, width);
            double own = factor[(i * q) + i];
            for (int c = 0; c < width; c++)
                row[c] *= own;
            for (int k = i + 1; k < q; k++)
            {
                double f = factor[(k * q) + i];
                ReadOnlySpan<double> below = block.Slice(k * width, width);
                for (int c = 0; c < width; c++)
                    row[c] += f * below[c];
            }
        }
    }

    // Turns q leading rows into the upper Cholesky factor and the reduced front; returns the log determinant.
    private static double Triangularize(Span<double> block, int q, int width)
    {
        double log = 0;
        for (int i = 0; i < q; i++)
        {
            Span<double> row = block.Slice((i * width) + i, width - i);
            for (int k = 0; k < i; k++)
            {
                ReadOnlySpan<double> above = block.Slice((k * width) + i, width - i);
                double f = above[0];
                for (int c = 0; c < row.Length; c++)
                    row[c] -= f * above[c];
            }
            log += Math.Log(row[0]);
            double root = 1 / Math.Sqrt(row[0]);
            for (int c = 0; c < row.Length; c++)
                row[c] *= root;
        }
        return log;
    }

    private void TransformDense()
    {
        int size = products.DenseSize;
        products.Dense.CopyTo(dense, 0);
        foreach ((int term, int start, int q) in products.CrossedBlocks)
        {
            for (int row = 0; row < size; row++)
                MultiplyRight(dense.AsSpan((row * size) + start, q), Factors[term]);
        }
        foreach ((int term, int start, int q) in products.CrossedBlocks)
        {
            MultiplyLeft(Factors[term], dense.AsSpan(start * size, q * size), q, size);
            for (int i = start; i < start + q; i++)
                dense[(i * size) + i] += 1;
        }
    }

    // Takes the crossed columns out of the fixed block and fills its lower triangle.
    private void ReduceFixed()
    {
        int size = products.DenseSize;
        int first = products.CrossedColumns;
        for (int a = first; a < size; a++)
        {
            for (int b = a; b < size; b++)
            {
                double sum = dense[(a * size) + b];
                for (int k = 0; k < first; k++)
                    sum -= dense[(k * size) + a] * dense[(k * size) + b];
                dense[(a * size) + b] = dense[(b * size) + a] = sum;
            }
        }
    }

    /// <summary>What one chunk adds up: Schur complements per level (the last is the dense block's) and log determinants.</summary>
    private sealed class Workspace
    {
        internal Workspace(MixedCrossProducts products)
        {
            Pending = new double[products.Levels + 1][];
            for (int level = 0; level < products.Levels; level++)
                Pending[level] = new double[products.Width(level) * products.Width(level)];
            Pending[products.Levels] = new double[products.DenseSize * products.DenseSize];
        }

        internal double[][] Pending { get; }

        internal double LogDeterminant { get; set; }
    }
}
