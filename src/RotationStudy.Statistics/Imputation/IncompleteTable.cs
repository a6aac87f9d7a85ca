namespace RotationStudy.Statistics.Imputation;

/// <summary>The checked table: values, which cells are missing, and for each incomplete column its predictors and order.</summary>
internal sealed class IncompleteTable
{
    private IncompleteTable(IReadOnlyList<ImputedColumn> columns, Clusters? clusters)
    {
        Columns = columns;
        Clusters = clusters;
        Rows = columns[0].Values.Count;
        Observed = new double[columns.Count][];
        MissingRows = new int[columns.Count][];
        ObservedRows = new int[columns.Count][];
        Predictors = new int[columns.Count][];
        Sources = new int[columns.Count][];
        Categories = new double[columns.Count][];
    }

    internal IReadOnlyList<ImputedColumn> Columns { get; }

    internal Clusters? Clusters { get; }

    internal int Rows { get; }

    /// <summary>Values per column, zero where missing.</summary>
    internal double[][] Observed { get; }

    internal int[][] MissingRows { get; }

    internal int[][] ObservedRows { get; }

    internal int[][] Predictors { get; }

    internal int[][] Sources { get; }

    /// <summary>The observed categories of an ordinal column, ascending.</summary>
    internal double[][] Categories { get; }

    /// <summary>Columns to be drawn, fewest missing values first.</summary>
    internal int[] Order { get; private set; } = [];

    /// <summary>Passive columns, in the order given.</summary>
    internal int[] Passive { get; private set; } = [];

    internal static IncompleteTable Check(IReadOnlyList<ImputedColumn> columns, Clusters? clusters)
    {
        if (columns.Count < 2)
            throw new TooFewDataError($"{columns.Count} column gives nothing to predict from", "Give the outcome and the covariates of the analysis.");
        Dictionary<string, int> place = [];
        for (int j = 0; j < columns.Count; j++)
        {
            if (!place.TryAdd(columns[j].Name, j))
                throw new InvalidInputError($"column '{columns[j].Name}' is named twice", "Give each column a name of its own.", column: columns[j].Name);
        }
        IncompleteTable table = new(columns, clusters);
        for (int j = 0; j < columns.Count; j++)
            table.Split(j);
        for (int j = 0; j < columns.Count; j++)
            table.Link(j, place);
        table.Passive = [.. Enumerable.Range(0, columns.Count).Where(j => columns[j].Model == ImputationModel.Passive)];
        table.Order = [.. Enumerable.Range(0, columns.Count)
            .Where(j => table.MissingRows[j].Length > 0 && columns[j].Model != ImputationModel.Passive)
            .OrderBy(j => table.MissingRows[j].Length).ThenBy(j => j)];
        return table;
    }

    private void Split(int j)
    {
        ImputedColumn column = Columns[j];
        Require.SameLength(column.Values.Count, Rows, column.Name);
        double[] values = new double[Rows];
        List<int> missing = [];
        List<int> observed = [];
        for (int i = 0; i < Rows; i++)
        {
            if (column.Values[i] is double v)
            {
                values[i] = v;
                observed.Add(i);
            }
            else
            {
                missing.Add(i);
            }
        }
        Require.Finite(values, column.Name);
        Observed[j] = values;
        MissingRows[j] = [.. missing];
        ObservedRows[j] = [.. observed];
        if (column.Model != ImputationModel.Passive && missing.Count > 0 && observed.Count < 2)
            throw new TooFewDataError($"column '{column.Name}' has {observed.Count} observed values", "Leave the column out, or collect it.");
        Categories[j] = column.Model is ImputationModel.Ordinal or ImputationModel.Logistic ? [.. observed.Select(i => values[i]).Distinct().Order()] : [];
        CheckModel(column, missing.Count, Categories[j]);
    }

    private void CheckModel(ImputedColumn column, int missing, double[] categories)
    {
        if (column.Model == ImputationModel.Logistic && categories.Any(c => c is not (0 or 1)))
            throw new InvalidInputError($"column '{column.Name}' holds values other than 0 and 1", "Code the event as 1, or take the ordinal model.", column: column.Name);
        if (missing > 0 && column.Model is ImputationModel.Logistic or ImputationModel.Ordinal && categories.Length < 2)
            throw new TooFewDataError($"column '{column.Name}' was observed in one category only", "Leave the column out: it predicts nothing.");
        if (column.Model == ImputationModel.TwoLevelNormal && Clusters is null)
            throw new InvalidInputError($"column '{column.Name}' has a random intercept, but no clusters were given", "Give the clusters.", column: column.Name);
        if (column.Model == ImputationModel.Passive && (column.Rule is null || column.Sources.Count == 0))
            throw new InvalidInputError($"column '{column.Name}' is passive but has no rule or no sources", "Make it with ImputedColumn.Computed.", column: column.Name);
    }

    private void Link(int j, Dictionary<string, int> place)
    {
        ImputedColumn column = Columns[j];
        Sources[j] = [.. column.Sources.Select(Find)];
        Predictors[j] = column.Predictors is null
            ? [.. Enumerable.Range(0, Columns.Count).Where(k => k != j && !Columns[k].Sources.Contains(column.Name))]
            : [.. column.Predictors.Select(Find)];
        if (Predictors[j].Contains(j))
            throw new InvalidInputError($"column '{column.Name}' is named as its own predictor", "Leave it out of its predictors.", column: column.Name);

        int Find(string name) => place.TryGetValue(name, out int k)
            ? k
            : throw new InvalidInputError($"column '{column.Name}' refers to '{name}', which is not in the table", "Check the spelling, or add the column.", column: column.Name);
    }
}
