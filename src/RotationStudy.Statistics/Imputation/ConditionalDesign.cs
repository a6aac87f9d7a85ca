using RotationStudy.Statistics.Solvers;

namespace RotationStudy.Statistics.Imputation;

/// <summary>The regression of one column on its predictors: centred columns of the rows where it was observed, and of those where it is missing.</summary>
/// <remarks>Buffers are made once per chain and filled anew for each column. The first column is the intercept; the others are centred on the observed rows, which keeps the cross-products well conditioned.</remarks>
internal sealed class ConditionalDesign
{
    private readonly IncompleteTable table;
    private readonly double[][] values;
    private readonly double[] observed;
    private readonly double[] missing;
    private readonly double[] outcome;
    private readonly double[] prediction;

    internal ConditionalDesign(IncompleteTable table, double[][] values)
    {
        this.table = table;
        this.values = values;
        int widest = 1 + table.Order.Select(j => table.Predictors[j].Length).DefaultIfEmpty(0).Max();
        int longest = table.Order.Select(j => table.ObservedRows[j].Length).DefaultIfEmpty(0).Max();
        int emptiest = table.Order.Select(j => table.MissingRows[j].Length).DefaultIfEmpty(0).Max();
        observed = new double[longest * widest];
        missing = new double[emptiest * widest];
        outcome = new double[longest];
        prediction = new double[Math.Max(longest, emptiest)];
    }

    /// <summary>Number of columns, p, intercept included.</summary>
    internal int Columns { get; private set; }

    internal int[] ObservedRows { get; private set; } = [];

    internal int[] MissingRows { get; private set; } = [];

    /// <summary>X'X of the observed rows, p by p.</summary>
    internal double[] Information { get; private set; } = [];

    internal SmallCholesky Factor { get; private set; } = null!;

    internal ReadOnlySpan<double> Outcome => outcome.AsSpan(0, ObservedRows.Length);

    internal ReadOnlySpan<double> Observed(int column) => observed.AsSpan(column * ObservedRows.Length, ObservedRows.Length);

    internal ReadOnlySpan<double> Missing(int column) => missing.AsSpan(column * MissingRows.Length, MissingRows.Length);

    /// <summary>Fills the buffers for a column and factors X'X, leaving out predictors that depend on those before.</summary>
    internal void Prepare(int target, SortedSet<string> warnings)
    {
        ObservedRows = table.ObservedRows[target];
        MissingRows = table.MissingRows[target];
        for (int i = 0; i < ObservedRows.Length; i++)
            outcome[i] = values[target][ObservedRows[i]];
        List<int> predictors = [.. table.Predictors[target]];
        while (true)
        {
            Fill(predictors);
            try
            {
                Factor = SmallCholesky.Factor(Information, Columns, Names(predictors));
                break;
            }
            catch (RankDeficientError error)
            {
                foreach (string name in error.Columns)
                    warnings.Add($"'{name}' was left out of the model of '{table.Columns[target].Name}': it depends on the columns before it");
                predictors.RemoveAll(k => error.Columns.Contains(table.Columns[k].Name));
            }
        }
        if (ObservedRows.Length <= Columns)
            throw new TooFewDataError($"column '{table.Columns[target].Name}' has {ObservedRows.Length} observed values for {Columns} coefficients", "Name fewer predictors for it.");
    }

    /// <summary>X b for the observed or the missing rows; valid until the next call.</summary>
    internal ReadOnlySpan<double> Predict(ReadOnlySpan<double> b, bool ofMissing)
    {
        int rows = ofMissing ? MissingRows.Length : ObservedRows.Length;
        Span<double> result = prediction.AsSpan(0, rows);
        result.Fill(b[0]);
        for (int k = 1; k < Columns; k++)
            CrossProduct.AddScaled(ofMissing ? Missing(k) : Observed(k), b[k], result);
        return result;
    }

    private void Fill(List<int> predictors)
    {
        Columns = predictors.Count + 1;
        int n = ObservedRows.Length;
        int m = MissingRows.Length;
        observed.AsSpan(0, n).Fill(1);
        missing.AsSpan(0, m).Fill(1);
        for (int k = 0; k < predictors.Count; k++)
        {
            double[] from = values[predictors[k]];
            Span<double> seen = observed.AsSpan((k + 1) * n, n);
            double mean = 0;
            for (int i = 0; i < n; i++)
                mean += seen[i] = from[ObservedRows[i]];
            mean /= n;
            for (int i = 0; i < n; i++)
                seen[i] -= mean;
            Span<double> unseen = missing.AsSpan((k + 1) * m, m);
            for (int i = 0; i < m; i++)
                unseen[i] = from[MissingRows[i]] - mean;
        }
        Information = new double[Columns * Columns];
        CrossProduct.Weighted(observed.AsSpan(0, n * Columns), n, Columns, default, Information);
    }

    private List<string> Names(List<int> predictors) => [DesignMatrix.InterceptName, .. predictors.Select(k => table.Columns[k].Name)];
}
