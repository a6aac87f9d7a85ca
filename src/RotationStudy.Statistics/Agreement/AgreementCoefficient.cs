namespace RotationStudy.Statistics.Agreement;

/// <summary>Agreement beyond chance between raters.</summary>
/// <param name="Name">Which coefficient and weights.</param>
/// <param name="Subjects">Number of subjects.</param>
/// <param name="Observed">Observed (weighted) agreement.</param>
/// <param name="Expected">Agreement expected by chance, as the coefficient defines chance.</param>
/// <param name="Value">(Observed - Expected) / (1 - Expected), with standard error, interval and p value.</param>
/// <param name="NullStandardError">Standard error under no agreement beyond chance, where the p value uses it; NaN where it does not.</param>
public sealed record AgreementCoefficient(
    string Name,
    int Subjects,
    double Observed,
    double Expected,
    Estimate Value,
    double NullStandardError);
