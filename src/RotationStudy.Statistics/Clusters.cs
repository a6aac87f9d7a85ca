namespace RotationStudy.Statistics;

/// <summary>Which rows belong together (the two sides of a person, repeated rows of one side): rows of a cluster may be dependent.</summary>
public sealed class Clusters
{
    private readonly int[] clusterOfRow;
    private readonly int[] start;
    private readonly int[] rows;

    private Clusters(int[] clusterOfRow, int count)
    {
        this.clusterOfRow = clusterOfRow;
        start = new int[count + 1];
        foreach (int c in clusterOfRow)
            start[c + 1]++;
        for (int c = 0; c < count; c++)
            start[c + 1] += start[c];
        int[] next = start[..count];
        rows = new int[clusterOfRow.Length];
        for (int i = 0; i < rows.Length; i++)
            rows[next[clusterOfRow[i]]++] = i;
    }

    /// <summary>Number of clusters, G.</summary>
    public int Count => start.Length - 1;

    /// <summary>Number of rows, n.</summary>
    public int Rows => clusterOfRow.Length;

    /// <summary>The cluster of each row, from 0, numbered by first appearance; length <see cref="Rows"/>.</summary>
    public ReadOnlySpan<int> ClusterOfRow => clusterOfRow;

    /// <summary>The rows of one cluster, in increasing order.</summary>
    public ReadOnlySpan<int> Members(int cluster) => rows.AsSpan(start[cluster], start[cluster + 1] - start[cluster]);

    /// <summary>Size of the largest cluster.</summary>
    public int LargestSize
    {
        get
        {
            int largest = 0;
            for (int c = 0; c < Count; c++)
                largest = Math.Max(largest, start[c + 1] - start[c]);
            return largest;
        }
    }

    /// <summary>Groups rows by identifier; clusters are numbered in order of first appearance.</summary>
    public static Clusters From<T>(IReadOnlyList<T> identifiers)
        where T : notnull
    {
        int[] of = new int[identifiers.Count];
        Dictionary<T, int> seen = [];
        for (int i = 0; i < of.Length; i++)
        {
            if (!seen.TryGetValue(identifiers[i], out int cluster))
                seen.Add(identifiers[i], cluster = seen.Count);
            of[i] = cluster;
        }
        return new Clusters(of, seen.Count);
    }

    /// <summary>Every row a cluster of its own: n clusters of size one.</summary>
    public static Clusters EachRow(int rows)
    {
        int[] of = new int[rows];
        for (int i = 0; i < rows; i++)
            of[i] = i;
        return new Clusters(of, rows);
    }

    /// <summary>For clusters made of selected rows: the number here of each cluster of the whole, -1 for those of which no row was selected.</summary>
    internal int[] Renumbering(Clusters whole, ReadOnlySpan<int> selected)
    {
        int[] number = new int[whole.Count];
        Array.Fill(number, -1);
        for (int i = 0; i < selected.Length; i++)
            number[whole.clusterOfRow[selected[i]]] = clusterOfRow[i];
        return number;
    }

    /// <summary>The clusters of some rows only, renumbered by first appearance.</summary>
    public Clusters SelectRows(ReadOnlySpan<int> selected)
    {
        int[] ids = new int[selected.Length];
        for (int i = 0; i < ids.Length; i++)
            ids[i] = clusterOfRow[selected[i]];
        return From(ids);
    }
}
