namespace RotationStudy.Statistics.GroupComparison;

/// <summary>The exact p value of a table by passing through its columns over states of the row totals that are left.</summary>
/// <remarks>
/// A table's weight is the product over columns of C_j! / prod x_ij!; the weights of all tables sum to n! / prod R_i!.
/// A state is the sorted list of row totals left, since what follows does not depend on which row is which. Within a
/// state the paths that reached it are kept by their weight so far. For each state the largest and smallest weight of
/// what is left bound a path's final weight.
/// </remarks>
internal sealed class TableNetwork
{
    // Log weights that agree to this many units are one path: a hundredth of what counts as equal probability.
    private const double LogGrain = 1e-9;

    // A state with more ways on than this is not listed: the table is far beyond the work limit.
    private const int MostArcs = 1_000_000;

    private readonly int[] columns;
    private readonly double[] logFactorial;
    private readonly double limit;
    private readonly double logAll;
    private readonly long workLimit;
    private readonly Dictionary<State, (double Largest, double Smallest)> bounds = [];
    private double p;
    private long work;

    private TableNetwork(int[] columns, double[] logFactorial, double limit, double logAll, long workLimit)
    {
        this.columns = columns;
        this.logFactorial = logFactorial;
        this.limit = limit;
        this.logAll = logAll;
        this.workLimit = workLimit;
    }

    /// <summary>The p value, or null when it takes more than the given number of steps.</summary>
    internal static double? PValue(ContingencyTable table, long workLimit)
    {
        // States are over the shorter side, so that there are few of them.
        bool turn = table.Rows > table.Columns;
        int[] rows = [.. turn ? table.ColumnTotals : table.RowTotals];
        int[] columns = [.. turn ? table.RowTotals : table.ColumnTotals];
        Array.Sort(rows);
        Array.Sort(columns, (a, b) => b.CompareTo(a));
        double[] logFactorial = LogFactorials(table.Total);
        double seen = columns.Sum(c => logFactorial[c]);
        for (int i = 0; i < table.Rows; i++)
        {
            for (int j = 0; j < table.Columns; j++)
                seen -= logFactorial[table[i, j]];
        }
        double logAll = logFactorial[table.Total] - rows.Sum(r => logFactorial[r]);
        TableNetwork network = new(columns, logFactorial, seen + FisherExact.SameProbability, logAll, workLimit);
        return network.Run(new State(rows)) ? Math.Min(1, network.p) : null;
    }

    /// <summary>log k! for k from 0 to n.</summary>
    internal static double[] LogFactorials(int n)
    {
        double[] log = new double[n + 1];
        for (int k = 2; k <= n; k++)
            log[k] = log[k - 1] + Math.Log(k);
        return log;
    }

    private bool Run(State start)
    {
        Dictionary<State, Dictionary<long, double>> stage = new() { [start] = new() { [0] = 1 } };
        for (int column = 0; column < columns.Length && stage.Count > 0; column++)
        {
            Dictionary<State, Dictionary<long, double>> next = [];
            foreach ((State state, Dictionary<long, double> paths) in stage)
            {
                if (Arcs(state, column) is not List<(State Child, double Arc)> arcs)
                    return false;
                foreach ((State child, double arc) in arcs)
                {
                    if (Bounds(child, column + 1) is not (double largest, double smallest) || !Pass(child, arc, paths, largest, smallest, next))
                        return false;
                }
            }
            stage = next;
        }
        return true;
    }

    // Sends every path on: counted whole, dropped, or kept for the next column. False when the work limit is reached.
    private bool Pass(
        State child, double arc, Dictionary<long, double> paths, double largest, double smallest, Dictionary<State, Dictionary<long, double>> next)
    {
        double logCompletions = logFactorial[child.Total] - child.Left.Sum(r => logFactorial[r]);
        foreach ((long grain, double ways) in paths)
        {
            if (++work > workLimit)
                return false;
            double weight = (grain * LogGrain) + arc;
            if (weight + largest <= limit)
            {
                p += ways * Math.Exp(weight + logCompletions - logAll);
            }
            else if (weight + smallest <= limit)
            {
                if (!next.TryGetValue(child, out Dictionary<long, double>? kept))
                    next.Add(child, kept = []);
                long key = (long)Math.Round(weight / LogGrain);
                kept[key] = kept.GetValueOrDefault(key) + ways;
            }
        }
        return true;
    }

    // Largest and smallest log weight of all ways to fill the columns from one on; null when the work limit is reached.
    private (double Largest, double Smallest)? Bounds(State state, int column)
    {
        if (column == columns.Length)
            return (0, 0);
        if (bounds.TryGetValue(state, out (double, double) known))
            return known;
        double largest = double.NegativeInfinity;
        double smallest = double.PositiveInfinity;
        if (Arcs(state, column) is not List<(State Child, double Arc)> arcs)
            return null;
        foreach ((State child, double arc) in arcs)
        {
            if (++work > workLimit || Bounds(child, column + 1) is not (double high, double low))
                return null;
            largest = Math.Max(largest, arc + high);
            smallest = Math.Min(smallest, arc + low);
        }
        bounds.Add(state, (largest, smallest));
        return (largest, smallest);
    }

    private List<(State Child, double Arc)>? Arcs(State state, int column)
    {
        List<(State, double)> arcs = [];
        int[] left = [.. state.Left];
        Spread(left, 0, columns[column], logFactorial[columns[column]], arcs);
        return arcs.Count > MostArcs ? null : arcs;
    }

    // All ways to take a number from the row totals from one row on.
    private void Spread(int[] left, int row, int take, double weight, List<(State, double)> arcs)
    {
        if (row == left.Length - 1 || arcs.Count > MostArcs)
        {
            if (take > left[row] || arcs.Count > MostArcs)
                return;
            left[row] -= take;
            arcs.Add((new State(left), weight - logFactorial[take]));
            left[row] += take;
            return;
        }
        for (int x = 0; x <= Math.Min(take, left[row]); x++)
        {
            left[row] -= x;
            Spread(left, row + 1, take - x, weight - logFactorial[x], arcs);
            left[row] += x;
        }
    }

    /// <summary>Row totals left, sorted; equal lists are equal states.</summary>
    private readonly struct State : IEquatable<State>
    {
        private readonly int hash;

        internal State(ReadOnlySpan<int> left)
        {
            Left = left.ToArray();
            Array.Sort(Left);
            HashCode code = default;
            foreach (int r in Left)
            {
                code.Add(r);
                Total += r;
            }
            hash = code.ToHashCode();
        }

        internal int[] Left { get; }

        internal int Total { get; }

        public bool Equals(State other) => Left.AsSpan().SequenceEqual(other.Left);

        public override bool Equals(object? obj) => obj is State other && Equals(other);

        public override int GetHashCode() => hash;
    }
}
