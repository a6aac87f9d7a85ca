namespace RotationStudy.Statistics.Mixed;

/// <summary>Sums over groups, per term, from which the derivatives of the deviance are made (see <see cref="BlockInverse"/>).</summary>
internal sealed class DescentSums
{
    internal DescentSums(MixedCrossProducts products, int terms)
    {
        Trace = new double[terms][];
        Score = new double[terms][];
        for (int level = 0; level < products.Levels; level++)
            Make(products.Hierarchy.Chain[level], products.Sizes[level], products.Fixed);
        foreach ((int term, int _, int size) in products.CrossedBlocks)
        {
            if (Trace[term] is null)
                Make(term, size, products.Fixed);
        }
        CrossedScore = new double[products.CrossedColumns * products.Fixed];
    }

    /// <summary>Per term, the sum of C L'Z'Z over its groups, q by q.</summary>
    internal double[][] Trace { get; }

    /// <summary>Per term, the sum of s(a,j) U(b,k): q(p + 1) squared, row (a,j), column (b,k).</summary>
    internal double[][] Score { get; }

    /// <summary>s of the crossed columns, as far as it comes from the chain's groups.</summary>
    internal double[] CrossedScore { get; }

    /// <summary>Adds the outer product of one group's s and U (both q by p + 1).</summary>
    internal void AddScore(int term, ReadOnlySpan<double> s, ReadOnlySpan<double> u)
    {
        Span<double> target = Score[term];
        for (int a = 0; a < s.Length; a++)
        {
            double sa = s[a];
            Span<double> row = target.Slice(a * u.Length, u.Length);
            for (int b = 0; b < row.Length; b++)
                row[b] += sa * u[b];
        }
    }

    internal void Add(DescentSums other)
    {
        for (int t = 0; t < Trace.Length; t++)
        {
            Add(Trace[t], other.Trace[t]);
            Add(Score[t], other.Score[t]);
        }
        Add(CrossedScore, other.CrossedScore);
    }

    private static void Add(Span<double> target, ReadOnlySpan<double> source)
    {
        for (int i = 0; i < target.Length; i++)
            target[i] += source[i];
    }

    private void Make(int term, int size, int fixedColumns)
    {
        Trace[term] = new double[size * size];
        Score[term] = new double[size * fixedColumns * size * fixedColumns];
    }
}
