namespace RotationStudy.Statistics;

/// <summary>A statistic that cannot be given: what is wrong, where, and what to do next. Never a silent number.</summary>
public abstract class StatisticsError : Exception
{
    private protected StatisticsError(string what, string hint, Exception? inner = null)
        : base($"{what}. {hint}", inner)
    {
        What = what;
        Hint = hint;
    }

    /// <summary>What is wrong, in one clause without a closing stop.</summary>
    public string What { get; }

    /// <summary>What to do next, in one sentence.</summary>
    public string Hint { get; }
}

/// <summary>The numbers handed in break the statistic's contract: a length, a range, NaN, a repeated name.</summary>
public sealed class InvalidInputError(string what, string hint, int? row = null, string? column = null) : StatisticsError(what, hint)
{
    /// <summary>The offending row, from 0, where one row is to blame.</summary>
    public int? Row { get; } = row;

    /// <summary>The offending column, where one is to blame.</summary>
    public string? Column { get; } = column;
}

/// <summary>Columns of the design are a combination of others, so their coefficients have no value.</summary>
public sealed class RankDeficientError(IReadOnlyList<string> columns)
    : StatisticsError(
        $"the design has no full rank: {string.Join(", ", columns)} {(columns.Count == 1 ? "is a combination" : "are combinations")} of the columns before",
        "Leave out the named column, or one that it depends on; a constant column clashes with the intercept.")
{
    /// <summary>The columns that are combinations of the columns before them.</summary>
    public IReadOnlyList<string> Columns { get; } = columns;
}

/// <summary>A binary outcome is split perfectly by the columns, so a maximum-likelihood estimate does not exist.</summary>
/// <param name="columns">The columns that split it.</param>
/// <param name="hint">What to do next where a penalised likelihood is no answer; null for the usual hint.</param>
public sealed class SeparationError(IReadOnlyList<string> columns, string? hint = null)
    : StatisticsError(
        $"the outcome is separated by {string.Join(", ", columns)}: the maximum-likelihood estimate is infinite",
        hint ?? "Use the penalised likelihood of Firth (1993) with profile intervals, or a smaller adjustment set.")
{
    /// <summary>The columns whose coefficients run off to infinity.</summary>
    public IReadOnlyList<string> Columns { get; } = columns;
}

/// <summary>An iteration did not reach its stop rule.</summary>
public sealed class NotConvergedError(string what, string hint, int iterations) : StatisticsError(what, hint)
{
    /// <summary>Iterations made.</summary>
    public int Iterations { get; } = iterations;
}

/// <summary>There is too little to estimate from: no events, one cluster, fewer rows than columns.</summary>
public sealed class TooFewDataError(string what, string hint) : StatisticsError(what, hint);
