namespace RotationStudy.Statistics.Mixed;

/// <summary>Walks one top group and all groups within it from the top down, for <see cref="BlockInverse"/>.</summary>
internal sealed class BlockDescent
{
    private readonly BlockInverse inverse;
    private readonly DescentSums sums;
    private readonly MixedCrossProducts products;
    private readonly Level[] path;

    internal BlockDescent(BlockInverse inverse, DescentSums sums)
    {
        this.inverse = inverse;
        this.sums = sums;
        products = inverse.Elimination.Products;
        path = new Level[products.Levels];
        for (int level = 0; level < path.Length; level++)
            path[level] = new Level(products.Sizes[level], products.RandomFront(level), products.Fixed);
    }

    internal void Descend(int level, int node)
    {
        Level at = path[level];
        Solve(level, node, at);
        Contribute(level, node, at);
        Keep(level, node, at);
        if (level > 0)
        {
            at.Extend(FrontInverse(level), FrontSolution(level));
            int[] start = products.Hierarchy.ChildStart[level];
            for (int child = start[node]; child < start[node + 1]; child++)
                Descend(level - 1, child);
        }
        sums.AddScore(products.Hierarchy.Chain[level], at.Score, at.Solution.AsSpan(0, at.Score.Length));
    }

    private ReadOnlySpan<double> FrontInverse(int level)
        => level == path.Length - 1 ? inverse.CrossedInverse : path[level + 1].FullInverse;

    private ReadOnlySpan<double> FrontSolution(int level)
        => level == path.Length - 1 ? inverse.CrossedSolution : path[level + 1].Solution;

    // F = R^-1 (reduced front);  U = F_X - F_R U_R;  C_R = -F_R C_RR;  C = (R'R)^-1 - C_R F_R'.
    private void Solve(int level, int node, Level at)
    {
        (int q, int front, int p) = (at.Size, at.Front, at.Fixed);
        int width = q + front + p;
        ReadOnlySpan<double> reduced = inverse.Elimination.Reduced(level, node);
        double[] f = at.Front0;
        double[] root = at.Root;
        for (int i = q - 1; i >= 0; i--)
        {
            Span<double> row = f.AsSpan(i * (front + p), front + p);
            reduced.Slice((i * width) + q, front + p).CopyTo(row);
            for (int c = 0; c < q; c++)
                root[(i * q) + c] = c == i ? 1 : 0;
            for (int k = i + 1; k < q; k++)
            {
                double r = reduced[(i * width) + k];
                for (int c = 0; c < row.Length; c++)
                    row[c] -= r * f[(k * (front + p)) + c];
                for (int c = k; c < q; c++)
                    root[(i * q) + c] -= r * root[(k * q) + c];
            }
            double pivot = 1 / reduced[(i * width) + i];
            for (int c = 0; c < row.Length; c++)
                row[c] *= pivot;
            for (int c = i; c < q; c++)
                root[(i * q) + c] *= pivot;
        }
        SolveFront(FrontInverse(level), FrontSolution(level), at);
    }

    private static void SolveFront(ReadOnlySpan<double> frontInverse, ReadOnlySpan<double> frontSolution, Level at)
    {
        (int q, int front, int p) = (at.Size, at.Front, at.Fixed);
        for (int i = 0; i < q; i++)
        {
            ReadOnlySpan<double> f = at.Front0.AsSpan(i * (front + p), front + p);
            Span<double> u = at.Solution.AsSpan(i * p, p);
            Span<double> c = at.Inverse.AsSpan(i * (q + front), q + front);
            c.Clear();
            f[front..].CopyTo(u);
            for (int k = 0; k < front; k++)
            {
                for (int j = 0; j < p; j++)
                    u[j] -= f[k] * frontSolution[(k * p) + j];
                ReadOnlySpan<double> row = frontInverse.Slice(k * front, front);
                for (int j = 0; j < front; j++)
                    c[q + j] -= f[k] * row[j];
            }
        }
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
            {
                double sum = 0;
                for (int k = Math.Max(i, j); k < q; k++)
                    sum += at.Root[(i * q) + k] * at.Root[(j * q) + k];
                for (int k = 0; k < front; k++)
                    sum -= at.Inverse[(i * (q + front)) + q + k] * at.Front0[(j * (front + p)) + k];
                at.Inverse[(i * (q + front)) + j] = sum;
            }
        }
    }

    private void Contribute(int level, int node, Level at)
    {
        (int q, int front, int p) = (at.Size, at.Front, at.Fixed);
        int width = q + front + p;
        int random = q + front;
        ReadOnlySpan<double> block = products.Node(level, node);
        block.CopyTo(at.Scaled);
        inverse.Elimination.ScaleColumns(at.Scaled, level);
        block.CopyTo(at.Left);
        BlockElimination.MultiplyLeft(inverse.Elimination.Factors[products.Hierarchy.Chain[level]], at.Left, q, width);
        Span<double> trace = sums.Trace[products.Hierarchy.Chain[level]];
        ReadOnlySpan<double> above = FrontSolution(level);
        for (int i = 0; i < q; i++)
        {
            for (int j = 0; j < q; j++)
            {
                double sum = 0;
                for (int k = 0; k < random; k++)
                    sum += at.Inverse[(i * random) + k] * at.Scaled[(j * width) + k];
                trace[(i * q) + j] += sum;
            }
            Span<double> s = at.Score.AsSpan(i * p, p);
            block.Slice((i * width) + random, p).CopyTo(s);
            for (int k = 0; k < random; k++)
            {
                double a = at.Scaled[(i * width) + k];
                ReadOnlySpan<double> u = k < q ? at.Solution.AsSpan(k * p, p) : above.Slice((k - q) * p, p);
                for (int c = 0; c < p; c++)
                    s[c] -= a * u[c];
            }
        }
        for (int a = level + 1; a < path.Length; a++)
            ContributeAbove(at, products.AncestorStart(level, a), products.Sizes[a], sums.Trace[products.Hierarchy.Chain[a]], path[a].Score);
        int crossed = products.CrossedStart(level);
        foreach ((int term, int start, int size) in products.CrossedBlocks)
            ContributeAbove(at, crossed + start, size, sums.Trace[term], sums.CrossedScore.AsSpan(start * p, size * p));
    }

    // This group's part in the sums of a group that holds it (or of a crossed group), whose columns begin at start.
    private static void ContributeAbove(Level at, int start, int size, Span<double> trace, Span<double> score)
    {
        int p = at.Fixed;
        int random = at.Size + at.Front;
        int width = random + p;
        for (int k = 0; k < at.Size; k++)
        {
            ReadOnlySpan<double> u = at.Solution.AsSpan(k * p, p);
            for (int j = 0; j < size; j++)
            {
                double left = at.Left[(k * width) + start + j];
                for (int i = 0; i < size; i++)
                    trace[(i * size) + j] += at.Inverse[(k * random) + start + i] * left;
                Span<double> s = score.Slice(j * p, p);
                for (int c = 0; c < p; c++)
                    s[c] -= left * u[c];
            }
        }
    }

    private void Keep(int level, int node, Level at)
    {
        if (inverse.Inverse.Length == 0)
            return;
        at.Inverse.CopyTo(inverse.Inverse[level], (long)node * at.Inverse.Length);
        at.Solution.AsSpan(0, at.Size * at.Fixed).CopyTo(inverse.Solution[level].AsSpan(node * at.Size * at.Fixed));
    }

    /// <summary>The state of the group that stands on one level of the path from the top.</summary>
    private sealed class Level(int size, int front, int p)
    {
        internal int Size => size;

        internal int Front => front;

        internal int Fixed => p;

        internal double[] Front0 { get; } = new double[size * (front + p)];

        internal double[] Root { get; } = new double[size * size];

        internal double[] Inverse { get; } = new double[size * (size + front)];

        internal double[] FullInverse { get; } = new double[(size + front) * (size + front)];

        internal double[] Solution { get; } = new double[(size + front) * p];

        internal double[] Score { get; } = new double[size * p];

        internal double[] Scaled { get; } = new double[size * (size + front + p)];

        internal double[] Left { get; } = new double[size * (size + front + p)];

        /// <summary>Puts this group's columns before those of the groups that hold it.</summary>
        internal void Extend(ReadOnlySpan<double> frontInverse, ReadOnlySpan<double> frontSolution)
        {
            int all = size + front;
            frontSolution.CopyTo(Solution.AsSpan(size * p));
            for (int i = 0; i < size; i++)
            {
                Inverse.AsSpan(i * all, all).CopyTo(FullInverse.AsSpan(i * all));
                for (int k = 0; k < front; k++)
                    FullInverse[((size + k) * all) + i] = Inverse[(i * all) + size + k];
            }
            for (int k = 0; k < front; k++)
                frontInverse.Slice(k * front, front).CopyTo(FullInverse.AsSpan(((size + k) * all) + size));
        }
    }
}
