namespace RotationStudy.Statistics.Imputation;

/// <summary>The completed copies of a table, with the course of the chains.</summary>
public sealed class ImputedTables
{
    private readonly IncompleteTable table;
    private readonly ImputationChain[] chains;

    internal ImputedTables(IncompleteTable table, ImputationOptions options, ImputationChain[] chains)
    {
        this.table = table;
        this.chains = chains;
        Options = options;
        Names = [.. table.Columns.Select(c => c.Name)];
        Warnings = [.. chains.SelectMany(c => c.Warnings).Distinct().Order(StringComparer.Ordinal)];
    }

    /// <summary>How they were made.</summary>
    public ImputationOptions Options { get; }

    /// <summary>Number of completed copies.</summary>
    public int Count => chains.Length;

    /// <summary>Number of rows.</summary>
    public int Rows => table.Rows;

    /// <summary>Names of the columns.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Predictors that had to be left out, in words.</summary>
    public IReadOnlyList<string> Warnings { get; }

    /// <summary>Number of missing values of a column.</summary>
    public int Missing(string name) => table.MissingRows[IndexOf(name)].Length;

    /// <summary>A column of one completed copy, both numbered from 0.</summary>
    public IReadOnlyList<double> Column(int imputation, string name) => chains[imputation].Column(IndexOf(name));

    /// <summary>Means of the imputed values of a column over the iterations of one chain; NaN for a complete column. Chains that mix freely and have no trend have converged.</summary>
    public IReadOnlyList<double> MeanTrace(int imputation, string name) => Trace(chains[imputation].Means, IndexOf(name));

    /// <summary>Standard deviations of the imputed values over the iterations of one chain; NaN under two values.</summary>
    public IReadOnlyList<double> SpreadTrace(int imputation, string name) => Trace(chains[imputation].StandardDeviations, IndexOf(name));

    /// <summary>Analyses every copy and pools the results by Rubin's rules.</summary>
    /// <param name="analysis">Fits the analysis model to one copy; its argument gives a column by name.</param>
    /// <param name="completeDegreesOfFreedom">Degrees of freedom that the analysis would have with complete data: rows less coefficients, or clusters less one for cluster-robust variances.</param>
    public PooledCoefficients Pool(Func<Func<string, IReadOnlyList<double>>, Coefficients> analysis, double completeDegreesOfFreedom)
    {
        Coefficients[] fits = new Coefficients[Count];
        for (int m = 0; m < Count; m++)
        {
            int copy = m;
            fits[m] = analysis(name => Column(copy, name));
        }
        return RubinPooling.Pool(fits, completeDegreesOfFreedom);
    }

    private double[] Trace(double[,] values, int column)
    {
        double[] trace = new double[Options.Iterations];
        for (int i = 0; i < trace.Length; i++)
            trace[i] = values[column, i];
        return trace;
    }

    private int IndexOf(string name)
    {
        for (int j = 0; j < Names.Count; j++)
        {
            if (Names[j] == name)
                return j;
        }
        throw new InvalidInputError($"no column is called '{name}'", $"The table has {string.Join(", ", Names)}.", column: name);
    }
}
