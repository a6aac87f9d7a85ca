namespace RotationStudy.Statistics.Mixed;

/// <summary>How the groupings of a mixed model lie in one another: a chain of nested terms, and terms that cross it.</summary>
/// <remarks>
/// Nested terms (sides in persons in sites) are eliminated group by group, in memory and time linear in the rows. Terms
/// that cross the chain (raters) stay together in one dense block, so their groups should be few. Among all chains the
/// one that leaves the smallest dense block is taken. Nesting is found from the rows; it need not be declared.
/// </remarks>
internal sealed class TermHierarchy
{
    /// <summary>The most columns that the dense block of crossed terms may have.</summary>
    internal const int MostCrossedColumns = 2000;

    private TermHierarchy(IReadOnlyList<RandomTerm> terms, int[] chain, int[] crossed)
    {
        Chain = chain;
        Crossed = crossed;
        Position = new int[terms.Count][];
        ChildStart = new int[chain.Length][];
        foreach (int t in crossed)
            Position[t] = Identity(terms[t].Groups.Count);
        int root = chain[^1];
        Position[root] = Identity(terms[root].Groups.Count);
        for (int level = chain.Length - 2; level >= 0; level--)
        {
            Clusters parents = terms[chain[level + 1]].Groups;
            int[] parentPosition = Position[chain[level + 1]];
            ChildStart[level + 1] = OrderWithin(terms[chain[level]].Groups, parents, parentPosition, out Position[chain[level]]);
        }
    }

    /// <summary>Terms of the nested chain, finest grouping first, as positions in the list of terms.</summary>
    internal int[] Chain { get; }

    /// <summary>Terms that cross the chain.</summary>
    internal int[] Crossed { get; }

    /// <summary>Per term, the processing position of each group: children of one parent stand together.</summary>
    internal int[][] Position { get; }

    /// <summary>Per chain level above the finest, where the children of each group begin; one more entry than groups.</summary>
    internal int[][] ChildStart { get; }

    internal static TermHierarchy Build(IReadOnlyList<RandomTerm> terms)
    {
        int[] byGroups = Identity(terms.Count);
        Array.Sort(byGroups, (a, b) => terms[b].Groups.Count != terms[a].Groups.Count
            ? terms[b].Groups.Count.CompareTo(terms[a].Groups.Count)
            : a.CompareTo(b));
        int[] chain = LongestChain(terms, byGroups);
        int[] crossed = [.. Identity(terms.Count).Where(t => !chain.Contains(t))];
        int columns = crossed.Sum(t => terms[t].Size * terms[t].Groups.Count);
        if (columns > MostCrossedColumns)
            throw new InvalidInputError($"the crossed terms {string.Join(", ", crossed.Select(t => terms[t].Name))} have {columns} effects, more than the {MostCrossedColumns} that a dense block takes", "Only one term may have many groups unless the terms are nested; use cluster-robust regression for the other.");
        return new TermHierarchy(terms, chain, crossed);
    }

    /// <summary>Whether every group of the finer grouping lies within one group of the coarser.</summary>
    internal static bool IsNested(Clusters finer, Clusters coarser)
    {
        int[] parent = new int[finer.Count];
        Array.Fill(parent, -1);
        ReadOnlySpan<int> f = finer.ClusterOfRow;
        ReadOnlySpan<int> c = coarser.ClusterOfRow;
        for (int i = 0; i < f.Length; i++)
        {
            if (parent[f[i]] < 0)
                parent[f[i]] = c[i];
            else if (parent[f[i]] != c[i])
                return false;
        }
        return true;
    }

    // Longest path by number of effects: the best chain that ends at each term, coarser terms coming later.
    private static int[] LongestChain(IReadOnlyList<RandomTerm> terms, int[] byGroups)
    {
        int k = byGroups.Length;
        long[] weight = new long[k];
        int[] finer = new int[k];
        for (int j = 0; j < k; j++)
        {
            RandomTerm coarse = terms[byGroups[j]];
            finer[j] = -1;
            for (int i = 0; i < j; i++)
            {
                if (weight[i] > (finer[j] < 0 ? 0 : weight[finer[j]]) && IsNested(terms[byGroups[i]].Groups, coarse.Groups))
                    finer[j] = i;
            }
            weight[j] = ((long)coarse.Size * coarse.Groups.Count) + (finer[j] < 0 ? 0 : weight[finer[j]]);
        }
        List<int> chain = [];
        for (int j = Array.IndexOf(weight, weight.Max()); j >= 0; j = finer[j])
            chain.Insert(0, byGroups[j]);
        return [.. chain];
    }

    private static int[] OrderWithin(Clusters children, Clusters parents, int[] parentPosition, out int[] position)
    {
        int[] parentOfChild = new int[children.Count];
        for (int i = 0; i < children.Rows; i++)
            parentOfChild[children.ClusterOfRow[i]] = parentPosition[parents.ClusterOfRow[i]];
        int[] start = new int[parents.Count + 1];
        foreach (int parent in parentOfChild)
            start[parent + 1]++;
        for (int p = 0; p < parents.Count; p++)
            start[p + 1] += start[p];
        int[] next = start[..parents.Count];
        position = new int[children.Count];
        for (int c = 0; c < position.Length; c++)
            position[c] = next[parentOfChild[c]]++;
        return start;
    }

    private static int[] Identity(int count)
    {
        int[] identity = new int[count];
        for (int i = 0; i < count; i++)
            identity[i] = i;
        return identity;
    }
}
