namespace RotationStudy.Statistics.Mixed;

/// <summary>One random term of a mixed model: which rows share effects, and which columns those effects multiply.</summary>
/// <param name="Name">Name of the grouping, such as "person" or "rater"; unique in a model.</param>
/// <param name="Groups">The rows of each group.</param>
/// <param name="Columns">The columns whose coefficients vary between groups (n rows, q columns); null for a random
/// intercept alone. A random intercept and slope is <c>DesignMatrix.WithIntercept(("years", years))</c>.</param>
/// <param name="Correlated">Whether the q effects of a group may be correlated (q(q+1)/2 variance parameters) or not (q).</param>
public sealed record RandomTerm(string Name, Clusters Groups, DesignMatrix? Columns = null, bool Correlated = true)
{
    /// <summary>Number of effects per group, q.</summary>
    public int Size => Columns?.Columns ?? 1;

    /// <summary>Name of one of the q effects.</summary>
    public string ColumnName(int column) => Columns?.Names[column] ?? DesignMatrix.InterceptName;

    /// <summary>The multiplier of an effect in a row.</summary>
    internal double Multiplier(int row, int column) => Columns is null ? 1 : Columns[row, column];

    /// <summary>Root mean square of a column: the terms are fitted in this unit, so that all parameters have one scale.</summary>
    internal double Scale(int column)
        => Columns is null ? 1 : Math.Sqrt(Solvers.CrossProduct.Dot(Columns.Column(column), Columns.Column(column)) / Columns.Rows);
}
