namespace RotationStudy.Statistics.Imputation;

/// <summary>How the missing values of a column are drawn.</summary>
public enum ImputationModel
{
    /// <summary>Observed values of donors with a close prediction: keeps range, steps and shape of the column. The choice for numbers.</summary>
    PredictiveMeanMatching,

    /// <summary>Linear regression with a normal error.</summary>
    Normal,

    /// <summary>Logistic regression, for 0 and 1.</summary>
    Logistic,

    /// <summary>Proportional-odds regression, for ordered categories coded by whole numbers.</summary>
    Ordinal,

    /// <summary>Linear regression with a normal error and a random intercept per cluster.</summary>
    TwoLevelNormal,

    /// <summary>No model: computed from other columns by a rule after each of them changes.</summary>
    Passive,
}

/// <summary>One column of the table to be completed, and the model of its missing values.</summary>
public sealed record ImputedColumn
{
    /// <summary>Name, unique in the table.</summary>
    public required string Name { get; init; }

    /// <summary>Values, null where missing.</summary>
    public required IReadOnlyList<double?> Values { get; init; }

    /// <summary>How missing values are drawn; without effect on a complete column.</summary>
    public ImputationModel Model { get; init; } = ImputationModel.PredictiveMeanMatching;

    /// <summary>Names of the predictors; null for all other columns except passive ones computed from this one.</summary>
    public IReadOnlyList<string>? Predictors { get; init; }

    /// <summary>
    /// A known shift of what is missing against what the model predicts, for sensitivity analysis: in the unit of the
    /// column, or in log odds for logistic and ordinal models. Zero means missing at random.
    /// </summary>
    public double Delta { get; init; }

    /// <summary>For a passive column, the columns it is computed from.</summary>
    public IReadOnlyList<string> Sources { get; init; } = [];

    /// <summary>For a passive column, its value from those of <see cref="Sources"/> in a row.</summary>
    public Func<IReadOnlyList<double>, double>? Rule { get; init; }

    /// <summary>A passive column: computed from others wherever one of them is missing.</summary>
    public static ImputedColumn Computed(string name, IReadOnlyList<double?> values, IReadOnlyList<string> sources, Func<IReadOnlyList<double>, double> rule)
        => new() { Name = name, Values = values, Model = ImputationModel.Passive, Sources = sources, Rule = rule };
}

/// <summary>How chained equations are run.</summary>
public sealed record ImputationOptions
{
    /// <summary>Number of completed tables; 20 as a rule of thumb, or the percentage of incomplete rows (White, Royston and Wood 2011).</summary>
    public int Imputations { get; init; } = 20;

    /// <summary>Passes over the columns; 10, and the traces show whether they suffice.</summary>
    public int Iterations { get; init; } = 10;

    /// <summary>Donors of predictive mean matching; 5 balances bias and variance (Morris, White and Royston 2014).</summary>
    public int Donors { get; init; } = 5;

    /// <summary>The study's seed.</summary>
    public ulong Seed { get; init; }

    /// <summary>The name of the random stream; one name per use.</summary>
    public string Stream { get; init; } = "imputation";

    /// <summary>Threads to use at most; -1 for all cores. The result does not depend on it.</summary>
    public int Threads { get; init; } = -1;
}
