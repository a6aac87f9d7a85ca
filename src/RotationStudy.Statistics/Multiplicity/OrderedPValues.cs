namespace RotationStudy.Statistics.Multiplicity;

/// <summary>The step methods' common frame: p values in order, a factor for each rank, and adjusted values made monotone.</summary>
internal static class OrderedPValues
{
    /// <summary>Going up from the smallest: the running maximum of factor times p, at most one.</summary>
    internal static double[] StepDown(IReadOnlyList<double> pValues, Func<int, double> factor)
    {
        int[] order = Ascending(pValues);
        double[] adjusted = new double[order.Length];
        double running = 0;
        for (int rank = 0; rank < order.Length; rank++)
            adjusted[order[rank]] = running = Math.Max(running, Math.Min(1, factor(rank) * pValues[order[rank]]));
        return adjusted;
    }

    /// <summary>Going down from the largest: the running minimum of factor times p, at most one.</summary>
    internal static double[] StepUp(IReadOnlyList<double> pValues, Func<int, double> factor)
    {
        int[] order = Ascending(pValues);
        double[] adjusted = new double[order.Length];
        double running = 1;
        for (int rank = order.Length - 1; rank >= 0; rank--)
            adjusted[order[rank]] = running = Math.Min(running, factor(rank) * pValues[order[rank]]);
        return adjusted;
    }

    private static int[] Ascending(IReadOnlyList<double> pValues)
    {
        int[] order = new int[pValues.Count];
        for (int i = 0; i < order.Length; i++)
        {
            if (!(pValues[i] >= 0 && pValues[i] <= 1))
                throw new InvalidInputError($"a p value of {pValues[i]} at position {i} does not lie in 0 to 1", "Leave tests without a p value out of the family, and say so.", i);
            order[i] = i;
        }
        Array.Sort(order, (a, b) => pValues[a] != pValues[b] ? pValues[a].CompareTo(pValues[b]) : a.CompareTo(b));
        return order;
    }
}
