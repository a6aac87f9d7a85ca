namespace RotationStudy.Statistics.Mixed;

/// <summary>One variance, or covariance, of a random term; or the residual variance.</summary>
/// <param name="Term">Name of the random term, or <see cref="ResidualName"/>.</param>
/// <param name="Column">The effect whose variance it is.</param>
/// <param name="OtherColumn">The second effect of a covariance; null for a variance.</param>
/// <param name="Value">The variance or covariance, in squared units of the outcome over the units of the columns.</param>
/// <param name="Correlation">The correlation of the two effects; null for a variance, or where one variance is zero.</param>
public sealed record VarianceComponent(string Term, string Column, string? OtherColumn, double Value, double? Correlation)
{
    /// <summary>The name of the residual in place of a term.</summary>
    public const string ResidualName = "residual";

    /// <summary>Standard deviation, for a variance; NaN for a covariance.</summary>
    public double StandardDeviation => OtherColumn is null ? Math.Sqrt(Value) : double.NaN;
}
