namespace RotationStudy.Statistics.GroupComparison;

/// <summary>Mid-ranks of a sample and what its ties take from the variance of rank sums.</summary>
internal sealed class Ranks
{
    private Ranks(double[] values, double tieSum)
    {
        Values = values;
        TieSum = tieSum;
    }

    /// <summary>Rank of each value from 1, ties sharing their mean rank, in the order of the sample.</summary>
    internal double[] Values { get; }

    /// <summary>Sum of t^3 - t over groups of t tied values.</summary>
    internal double TieSum { get; }

    internal static Ranks Of(ReadOnlySpan<double> sample)
    {
        double[] sorted = sample.ToArray();
        int[] order = new int[sorted.Length];
        for (int i = 0; i < order.Length; i++)
            order[i] = i;
        Array.Sort(sorted, order);
        double[] ranks = new double[sorted.Length];
        double ties = 0;
        for (int from = 0; from < sorted.Length;)
        {
            int to = from;
            while (to < sorted.Length && sorted[to] == sorted[from])
                to++;
            double t = to - from;
            ties += (t * t * t) - t;
            for (int i = from; i < to; i++)
                ranks[order[i]] = (from + 1 + to) / 2.0;
            from = to;
        }
        return new Ranks(ranks, ties);
    }
}
