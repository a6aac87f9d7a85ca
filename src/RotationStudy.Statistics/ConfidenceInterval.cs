namespace RotationStudy.Statistics;

/// <summary>An interval for a quantity at a stated level of confidence; a bound may be infinite, never NaN.</summary>
/// <param name="Lower">Lower bound, in the unit of the estimate.</param>
/// <param name="Upper">Upper bound, in the unit of the estimate.</param>
/// <param name="Level">Level of confidence, such as 0.95.</param>
public readonly record struct ConfidenceInterval(double Lower, double Upper, double Level)
{
    /// <summary>The level used where none is asked for.</summary>
    public const double DefaultLevel = 0.95;

    /// <summary>The same interval on another scale, for a monotone increasing map such as the exponential.</summary>
    public ConfidenceInterval Map(Func<double, double> increasing) => new(increasing(Lower), increasing(Upper), Level);
}
