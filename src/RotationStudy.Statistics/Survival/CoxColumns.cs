namespace RotationStudy.Statistics.Survival;

/// <summary>The columns of a proportional-hazards model in the order of the risk sets, centred within each stratum.</summary>
/// <remarks>A shift within a stratum cancels from the partial likelihood; it keeps sums of squares free of cancellation.</remarks>
internal sealed class CoxColumns
{
    // A spread this small against the column's size is the rounding of a constant.
    private const double ConstantTolerance = 1e-13;

    internal CoxColumns(RiskSets sets, DesignMatrix x, ReadOnlySpan<double> weights, ReadOnlySpan<double> offset)
    {
        int n = x.Rows;
        Names = x.Names;
        Means = new double[sets.Strata * x.Columns];
        Spread = new double[x.Columns];
        (string, IReadOnlyList<double>)[] columns = new (string, IReadOnlyList<double>)[x.Columns];
        for (int j = 0; j < x.Columns; j++)
        {
            double[] sorted = Gather(x.Column(j), sets.Row);
            for (int s = 0; s < sets.Strata; s++)
            {
                Span<double> part = sorted.AsSpan(sets.StratumStart[s], sets.StratumStart[s + 1] - sets.StratumStart[s]);
                Means[(s * x.Columns) + j] = Centre(part);
            }
            double squares = 0;
            foreach (double value in sorted)
                squares += value * value;
            Spread[j] = Math.Sqrt(squares / n);
            columns[j] = (x.Names[j], sorted);
        }
        Design = DesignMatrix.FromColumns(columns);
        Weights = weights.IsEmpty ? [] : Gather(weights, sets.Row);
        Offset = offset.IsEmpty ? [] : Gather(offset, sets.Row);
    }

    internal IReadOnlyList<string> Names { get; }

    internal DesignMatrix Design { get; }

    /// <summary>What was subtracted, strata by p.</summary>
    internal double[] Means { get; }

    /// <summary>Standard deviation of each column within strata.</summary>
    internal double[] Spread { get; }

    /// <summary>Weights by position; empty for weights of one.</summary>
    internal double[] Weights { get; }

    /// <summary>Offsets by position; empty for none.</summary>
    internal double[] Offset { get; }

    private static double[] Gather(ReadOnlySpan<double> values, int[] rows)
    {
        double[] sorted = new double[rows.Length];
        for (int q = 0; q < rows.Length; q++)
            sorted[q] = values[rows[q]];
        return sorted;
    }

    private static double Centre(Span<double> values)
    {
        double sum = 0;
        double largest = 0;
        foreach (double value in values)
        {
            sum += value;
            largest = Math.Max(largest, Math.Abs(value));
        }
        double mean = sum / values.Length;
        double spread = 0;
        foreach (double value in values)
            spread = Math.Max(spread, Math.Abs(value - mean));
        bool constant = spread <= ConstantTolerance * largest;
        for (int i = 0; i < values.Length; i++)
            values[i] = constant ? 0 : values[i] - mean;
        return mean;
    }
}
