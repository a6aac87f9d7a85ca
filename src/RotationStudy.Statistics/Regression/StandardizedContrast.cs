namespace RotationStudy.Statistics.Regression;

/// <summary>The mean outcome of the same rows under two settings of an exposure, and how they differ.</summary>
/// <param name="First">Mean outcome with every row at the first setting.</param>
/// <param name="Second">Mean outcome with every row at the second setting.</param>
/// <param name="Difference">First minus second: a risk difference, or a difference of rates.</param>
/// <param name="LogRatio">Log of first over second: exponentiate value and interval for the ratio.</param>
public sealed record StandardizedContrast(Estimate First, Estimate Second, Estimate Difference, Estimate LogRatio)
{
    /// <summary>First over second: a risk ratio, or a ratio of rates.</summary>
    public double Ratio => Math.Exp(LogRatio.Value);

    /// <summary>Interval of <see cref="Ratio"/>.</summary>
    public ConfidenceInterval RatioInterval => LogRatio.Interval.Map(Math.Exp);
}
