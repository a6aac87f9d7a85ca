using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics;

/// <summary>One estimated quantity with its uncertainty: the default answer of every estimator.</summary>
/// <param name="Term">What is estimated, for a regression the column's name.</param>
/// <param name="Value">The estimate, on the scale of the model (log odds, log rate, ...).</param>
/// <param name="StandardError">Its standard error; NaN where the method gives an interval without one.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the reference t distribution; infinite for the normal.</param>
/// <param name="Interval">Confidence interval on the same scale.</param>
/// <param name="PValue">Two-sided p value of the hypothesis that the quantity is zero.</param>
public sealed record Estimate(
    string Term,
    double Value,
    double StandardError,
    double DegreesOfFreedom,
    ConfidenceInterval Interval,
    double PValue)
{
    /// <summary>Estimate over standard error.</summary>
    public double Statistic => Value / StandardError;

    /// <summary>The Wald estimate: value plus or minus the t (or normal) quantile times the standard error.</summary>
    /// <param name="term">What is estimated.</param>
    /// <param name="value">The estimate.</param>
    /// <param name="standardError">Its standard error, zero or more.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom, infinite for the normal.</param>
    /// <param name="level">Level of confidence.</param>
    public static Estimate Wald(
        string term,
        double value,
        double standardError,
        double degreesOfFreedom = double.PositiveInfinity,
        double level = ConfidenceInterval.DefaultLevel)
    {
        double quantile = StudentT.Quantile(0.5 + (level / 2), degreesOfFreedom);
        double half = quantile * standardError;
        return new Estimate(
            term,
            value,
            standardError,
            degreesOfFreedom,
            new ConfidenceInterval(value - half, value + half, level),
            StudentT.TwoSidedPValue(value / standardError, degreesOfFreedom));
    }
}
