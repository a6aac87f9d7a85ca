namespace RotationStudy.Statistics.Regression;

/// <summary>How a generalized linear model is fitted and how the variance of its coefficients is reached.</summary>
public sealed record GeneralizedLinearOptions
{
    /// <summary>The options used where none are given.</summary>
    public static GeneralizedLinearOptions Default { get; } = new();

    /// <summary>The variance used where clusters are named; null means CR2.</summary>
    public ClusterVariance? Variance { get; init; }

    /// <summary>Most Newton steps; a regular fit needs 4 to 8, so 60 means that something is wrong.</summary>
    public int MaximumIterations { get; init; } = 60;

    /// <summary>
    /// Stop when the squared length of the Newton step, in standard errors, is below this. With 1e-18 each coefficient is
    /// within a thousand-millionth of its standard error of the maximum.
    /// </summary>
    public double Tolerance { get; init; } = 1e-18;
}
