namespace RotationStudy.Statistics.Sharing;

/// <summary>A group that sums would show by itself.</summary>
/// <param name="Clusters">Its number of clusters.</param>
/// <param name="What">How it is made up, in names of columns.</param>
public sealed record SmallGroup(int Clusters, string What);

/// <summary>Looks for groups of few clusters that cross-products of 0/1 columns would reveal.</summary>
/// <remarks>
/// <para>The cross-product of two 0/1 columns counts the rows with both, and with the intercept and the marginal sums the other three cells of their
/// table follow; with the outcome the events of each cell follow. So each cell of each pair of 0/1 columns, the outcome (above zero or not)
/// among them, must hold no cluster or at least the smallest number. Columns with more values than two are not looked at: their
/// sums mix all rows.</para>
/// <para>This keeps small cells of single columns and pairs from being read off. It is no proof against somebody who knows much of a
/// person, who compares two requests, or who combines sums in other ways.</para>
/// <para><b>Source</b>: Cox LH, J Am Stat Assoc 1980;75:377-385 (cells that follow from margins); recalled, not re-read.</para>
/// </remarks>
public static class SmallGroups
{
    /// <summary>The first such group, or null.</summary>
    /// <param name="x">Design.</param>
    /// <param name="outcome">Outcome, which counts as 0/1 by being above zero where it is a count or an event; empty to leave it out.</param>
    /// <param name="clusters">Clusters.</param>
    /// <param name="smallest">Smallest number of clusters that may stand alone.</param>
    public static SmallGroup? Find(DesignMatrix x, ReadOnlySpan<double> outcome, Clusters clusters, int smallest)
    {
        if (clusters.Count < smallest)
            return new SmallGroup(clusters.Count, "all rows");
        List<(string Name, bool[] Ones)> columns = [];
        for (int j = 0; j < x.Columns; j++)
        {
            if (Indicator(x.Column(j)) is { } ones)
                columns.Add((x.Names[j], ones));
        }
        if (!outcome.IsEmpty)
            columns.Add(("the outcome", Positive(outcome)));
        for (int a = 0; a < columns.Count; a++)
        {
            for (int b = a; b < columns.Count; b++)
            {
                if (SmallCell(columns[a], columns[b], clusters, smallest) is { } found)
                    return found;
            }
        }
        return null;
    }

    private static SmallGroup? SmallCell((string Name, bool[] Ones) a, (string Name, bool[] Ones) b, Clusters clusters, int smallest)
    {
        Span<int> counts = stackalloc int[4];
        for (int g = 0; g < clusters.Count; g++)
        {
            int seen = 0;
            foreach (int row in clusters.Members(g))
                seen |= 1 << ((a.Ones[row] ? 2 : 0) + (b.Ones[row] ? 1 : 0));
            for (int cell = 0; cell < 4; cell++)
                counts[cell] += (seen >> cell) & 1;
        }
        for (int cell = 0; cell < 4; cell++)
        {
            if (counts[cell] > 0 && counts[cell] < smallest)
            {
                string first = $"{a.Name} {(cell < 2 ? "no" : "yes")}";
                return new SmallGroup(counts[cell], a.Name == b.Name ? first : $"{first}, {b.Name} {(cell % 2 == 0 ? "no" : "yes")}");
            }
        }
        return null;
    }

    /// <summary>Which rows have the upper of the column's two values; null where it has one value or more than two.</summary>
    private static bool[]? Indicator(ReadOnlySpan<double> column)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (double v in column)
        {
            low = Math.Min(low, v);
            high = Math.Max(high, v);
        }
        bool[] ones = new bool[column.Length];
        for (int i = 0; i < ones.Length; i++)
        {
            if (column[i] != low && column[i] != high)
                return null;
            ones[i] = column[i] == high;
        }
        return low < high ? ones : null;
    }

    private static bool[] Positive(ReadOnlySpan<double> outcome)
    {
        bool[] positive = new bool[outcome.Length];
        for (int i = 0; i < positive.Length; i++)
            positive[i] = outcome[i] > 0;
        return positive;
    }
}
