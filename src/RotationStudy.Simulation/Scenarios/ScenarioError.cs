namespace RotationStudy.Simulation.Scenarios;

/// <summary>A scenario file that cannot be used: where, what, and what to do.</summary>
public sealed class ScenarioError(string where, string what, string hint) : Exception($"{where}: {what} {hint}")
{
    /// <summary>File, line and column, or file and key.</summary>
    public string Where { get; } = where;

    /// <summary>What is wrong, a sentence.</summary>
    public string What { get; } = what;

    /// <summary>What to do, a sentence.</summary>
    public string Hint { get; } = hint;
}
