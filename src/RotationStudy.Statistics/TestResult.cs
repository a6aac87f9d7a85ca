using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics;

/// <summary>A test of a hypothesis.</summary>
/// <param name="Name">Which test, in the words of the field, such as "Wald chi-square".</param>
/// <param name="Statistic">The test statistic.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom (numerator, for an F test); NaN where the test has none.</param>
/// <param name="DenominatorDegreesOfFreedom">Denominator degrees of freedom of an F test; infinite for a chi-square or normal reference.</param>
/// <param name="PValue">The p value.</param>
public sealed record TestResult(
    string Name,
    double Statistic,
    double DegreesOfFreedom,
    double DenominatorDegreesOfFreedom,
    double PValue)
{
    /// <summary>A chi-square test.</summary>
    public static TestResult ChiSquare(string name, double statistic, double degreesOfFreedom)
        => new(name, statistic, degreesOfFreedom, double.PositiveInfinity, ChiSquared.UpperTail(statistic, degreesOfFreedom));

    /// <summary>An F test.</summary>
    public static TestResult F(string name, double statistic, double numerator, double denominator)
        => new(name, statistic, numerator, denominator, FDistribution.UpperTail(statistic, numerator, denominator));
}
