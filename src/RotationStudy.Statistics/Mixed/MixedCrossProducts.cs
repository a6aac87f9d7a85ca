namespace RotationStudy.Statistics.Mixed;

/// <summary>All that a linear mixed model needs of its rows: the cross-products of [Z X y], kept group by group.</summary>
/// <remarks>
/// Each group of the nested chain keeps its own columns' products with themselves, with the columns of the groups that
/// hold it, and with the dense columns (crossed terms, fixed columns, outcome). Nothing else of Z'Z differs from zero.
/// </remarks>
internal sealed class MixedCrossProducts
{
    private readonly double[][] nodes;
    private readonly int[] levelStart;

    internal MixedCrossProducts(
        IReadOnlyList<RandomTerm> terms, TermHierarchy hierarchy, RelativeCovariance scales, OrthonormalBasis x, ReadOnlySpan<double> y)
    {
        Hierarchy = hierarchy;
        Levels = hierarchy.Chain.Length;
        Fixed = x.Columns + 1;
        Sizes = [.. hierarchy.Chain.Select(t => terms[t].Size)];
        Counts = [.. hierarchy.Chain.Select(t => terms[t].Groups.Count)];
        foreach (int t in hierarchy.Crossed)
        {
            for (int g = 0; g < terms[t].Groups.Count; g++)
                CrossedBlocks.Add((t, CrossedColumns + (g * terms[t].Size), terms[t].Size));
            CrossedColumns += terms[t].Size * terms[t].Groups.Count;
        }
        levelStart = new int[Levels + 1];
        for (int level = 0; level < Levels; level++)
            levelStart[level + 1] = levelStart[level] + Sizes[level];
        nodes = new double[Levels][];
        for (int level = 0; level < Levels; level++)
            nodes[level] = new double[(long)Counts[level] * NodeLength(level)];
        Dense = new double[DenseSize * DenseSize];
        Accumulate(terms, scales, x, y);
    }

    internal TermHierarchy Hierarchy { get; }

    /// <summary>Number of levels of the nested chain.</summary>
    internal int Levels { get; }

    /// <summary>Effects per group, per chain level.</summary>
    internal int[] Sizes { get; }

    /// <summary>Groups per chain level.</summary>
    internal int[] Counts { get; }

    /// <summary>Fixed columns and the outcome, p + 1.</summary>
    internal int Fixed { get; }

    /// <summary>Columns of all crossed terms together.</summary>
    internal int CrossedColumns { get; }

    /// <summary>Term, first dense column and size of each group of a crossed term.</summary>
    internal List<(int Term, int Start, int Size)> CrossedBlocks { get; } = [];

    /// <summary>Crossed, fixed and outcome columns.</summary>
    internal int DenseSize => CrossedColumns + Fixed;

    /// <summary>Cross-products of the dense columns, full and symmetric.</summary>
    internal double[] Dense { get; }

    /// <summary>Random columns in front of a group: those of the groups that hold it and of the crossed terms.</summary>
    internal int RandomFront(int level) => levelStart[Levels] - levelStart[level + 1] + CrossedColumns;

    /// <summary>Columns of a group's row block: its own, its random front, fixed and outcome.</summary>
    internal int Width(int level) => Sizes[level] + RandomFront(level) + Fixed;

    /// <summary>Values kept per group.</summary>
    internal int NodeLength(int level) => Sizes[level] * Width(level);

    /// <summary>The q by width block of one group.</summary>
    internal ReadOnlySpan<double> Node(int level, int node) => nodes[level].AsSpan(node * NodeLength(level), NodeLength(level));

    /// <summary>Where an ancestor's columns begin in a group's block.</summary>
    internal int AncestorStart(int level, int ancestor) => levelStart[ancestor] - levelStart[level];

    /// <summary>Where the crossed columns begin in a group's block.</summary>
    internal int CrossedStart(int level) => levelStart[Levels] - levelStart[level];

    private void Accumulate(IReadOnlyList<RandomTerm> terms, RelativeCovariance scales, OrthonormalBasis x, ReadOnlySpan<double> y)
    {
        int chainColumns = levelStart[Levels];
        double[] row = new double[chainColumns + DenseSize];
        int[] filled = new int[Hierarchy.Crossed.Sum(t => terms[t].Size)];
        for (int i = 0; i < x.Rows; i++)
        {
            FillRow(terms, scales, x, y, i, row, filled);
            for (int level = 0; level < Levels; level++)
            {
                int t = Hierarchy.Chain[level];
                int node = Hierarchy.Position[t][terms[t].Groups.ClusterOfRow[i]];
                AddProducts(nodes[level].AsSpan(node * NodeLength(level), NodeLength(level)), row.AsSpan(levelStart[level]), Sizes[level], filled);
            }
            AddDense(row.AsSpan(chainColumns), filled);
            foreach (int c in filled)
                row[chainColumns + c] = 0;
        }
        for (int a = 0; a < DenseSize; a++)
        {
            for (int b = 0; b < a; b++)
                Dense[(a * DenseSize) + b] = Dense[(b * DenseSize) + a];
        }
    }

    private void FillRow(IReadOnlyList<RandomTerm> terms, RelativeCovariance scales, OrthonormalBasis x, ReadOnlySpan<double> y, int i, double[] row, int[] filled)
    {
        int at = 0;
        foreach (int t in Hierarchy.Chain)
        {
            for (int c = 0; c < terms[t].Size; c++)
                row[at++] = terms[t].Multiplier(i, c) / scales.Scale(t, c);
        }
        int termStart = 0;
        int f = 0;
        foreach (int t in Hierarchy.Crossed)
        {
            int column = termStart + (terms[t].Groups.ClusterOfRow[i] * terms[t].Size);
            for (int c = 0; c < terms[t].Size; c++)
            {
                row[at + column + c] = terms[t].Multiplier(i, c) / scales.Scale(t, c);
                filled[f++] = column + c;
            }
            termStart += terms[t].Size * terms[t].Groups.Count;
        }
        at += CrossedColumns;
        for (int j = 0; j < x.Columns; j++)
            row[at++] = x.Column(j)[i];
        row[at] = y[i];
    }

    // The crossed part of a row is zero but for the few columns of its own groups.
    private void AddProducts(Span<double> block, ReadOnlySpan<double> row, int size, int[] filled)
    {
        int width = block.Length / size;
        int crossed = width - DenseSize;
        int fixedStart = width - Fixed;
        for (int a = 0; a < size; a++)
        {
            double z = row[a];
            Span<double> target = block.Slice(a * width, width);
            for (int b = 0; b < crossed; b++)
                target[b] += z * row[b];
            foreach (int c in filled)
                target[crossed + c] += z * row[crossed + c];
            for (int b = fixedStart; b < width; b++)
                target[b] += z * row[b];
        }
    }

    private void AddDense(ReadOnlySpan<double> row, int[] filled)
    {
        foreach (int a in filled)
        {
            foreach (int b in filled)
            {
                if (b >= a)
                    Dense[(a * DenseSize) + b] += row[a] * row[b];
            }
            for (int b = CrossedColumns; b < DenseSize; b++)
                Dense[(a * DenseSize) + b] += row[a] * row[b];
        }
        for (int a = CrossedColumns; a < DenseSize; a++)
        {
            for (int b = a; b < DenseSize; b++)
                Dense[(a * DenseSize) + b] += row[a] * row[b];
        }
    }
}
