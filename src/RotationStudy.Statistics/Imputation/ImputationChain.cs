using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Imputation;

/// <summary>One chain: a completed copy of the table that is redrawn column by column.</summary>
internal sealed class ImputationChain
{
    private readonly IncompleteTable table;
    private readonly ImputationOptions options;
    private readonly RandomStream random;
    private readonly double[][] values;
    private readonly ConditionalDesign design;
    private readonly Dictionary<int, TwoLevelNormalDraw> twoLevel = [];
    private readonly double[] sources;

    internal ImputationChain(IncompleteTable table, ImputationOptions options, int index)
    {
        this.table = table;
        this.options = options;
        random = new RandomStream(options.Seed, options.Stream, index);
        values = [.. table.Observed.Select(c => c.ToArray())];
        design = new ConditionalDesign(table, values);
        sources = new double[table.Sources.Max(s => s.Length)];
        Means = new double[table.Columns.Count, options.Iterations];
        StandardDeviations = new double[table.Columns.Count, options.Iterations];
    }

    /// <summary>Mean of the imputed values per column and iteration; NaN for a complete column.</summary>
    internal double[,] Means { get; }

    /// <summary>Their standard deviation.</summary>
    internal double[,] StandardDeviations { get; }

    /// <summary>Predictors that were left out because they depend on others.</summary>
    internal SortedSet<string> Warnings { get; } = new(StringComparer.Ordinal);

    /// <summary>The completed column.</summary>
    internal double[] Column(int j) => values[j];

    internal void Run()
    {
        foreach (int j in table.Order)
        {
            foreach (int i in table.MissingRows[j])
                values[j][i] = values[j][table.ObservedRows[j][random.Below(table.ObservedRows[j].Length)]];
        }
        Compute();
        for (int iteration = 0; iteration < options.Iterations; iteration++)
        {
            foreach (int j in table.Order)
            {
                Draw(j);
                Compute();
            }
            Trace(iteration);
        }
    }

    private void Draw(int j)
    {
        ImputedColumn column = table.Columns[j];
        design.Prepare(j, Warnings);
        switch (column.Model)
        {
            case ImputationModel.PredictiveMeanMatching:
                NormalDraw.Matched(design, values[j], options.Donors, column.Delta, random);
                break;
            case ImputationModel.Normal:
                NormalDraw.WithError(design, values[j], column.Delta, random);
                break;
            case ImputationModel.TwoLevelNormal:
                if (!twoLevel.TryGetValue(j, out TwoLevelNormalDraw? state))
                    twoLevel.Add(j, state = new TwoLevelNormalDraw(table.Clusters!));
                state.Draw(design, values[j], column.Delta, random);
                break;
            default:
                OrdinalDraw.Draw(design, values[j], table.Categories[j], column.Delta, random);
                break;
        }
    }

    private void Compute()
    {
        foreach (int j in table.Passive)
        {
            int[] from = table.Sources[j];
            IReadOnlyList<double> row = new ArraySegment<double>(sources, 0, from.Length);
            Func<IReadOnlyList<double>, double> rule = table.Columns[j].Rule!;
            foreach (int i in table.MissingRows[j])
            {
                for (int k = 0; k < from.Length; k++)
                    sources[k] = values[from[k]][i];
                double value = rule(row);
                if (!double.IsFinite(value))
                    throw new InvalidInputError($"the rule of passive column '{table.Columns[j].Name}' gave {value} in row {i}", "Make the rule defined for every imputed value.", i, table.Columns[j].Name);
                values[j][i] = value;
            }
        }
    }

    private void Trace(int iteration)
    {
        for (int j = 0; j < values.Length; j++)
        {
            int[] rows = table.MissingRows[j];
            double mean = 0;
            foreach (int i in rows)
                mean += values[j][i] / rows.Length;
            double squares = 0;
            foreach (int i in rows)
                squares += (values[j][i] - mean) * (values[j][i] - mean);
            Means[j, iteration] = rows.Length == 0 ? double.NaN : mean;
            StandardDeviations[j, iteration] = rows.Length < 2 ? double.NaN : Math.Sqrt(squares / (rows.Length - 1));
        }
    }
}
