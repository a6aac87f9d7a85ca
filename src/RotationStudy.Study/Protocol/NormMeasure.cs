namespace RotationStudy.Study.Protocol;

/// <summary>How a value is read against a norm.</summary>
public enum NormUse
{
    /// <summary>Standard deviations from the mean of the norm.</summary>
    ZScore,

    /// <summary>Percentage of the norm's population at or below the value, by the normal distribution of the z score.</summary>
    Centile,

    /// <summary>Value minus the mean of the norm, in the unit of the value.</summary>
    Difference,

    /// <summary>Below, within or above the range of the norm, or outside its ages.</summary>
    Position,
}

/// <summary>kind: z_score, centile, norm_difference or norm_position — a measure read against a norm for the age and sex of the person.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Use">How it is read.</param>
/// <param name="Of">The measure read.</param>
/// <param name="Norm">The norm.</param>
/// <param name="Age">Measure of age in years; at enrolment when <paramref name="Day"/> is given.</param>
/// <param name="Sex">Measure of sex; null for a norm without sexes.</param>
/// <param name="Day">Measure of the day of the reading since enrolment, which is added to the age; null for none.</param>
/// <remarks>A person outside the ages of the norm gets no number: the value is missing with that reason, or has that group.</remarks>
public sealed record NormMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    NormUse Use, string Of, string Norm, string Age, string? Sex, string? Day)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
