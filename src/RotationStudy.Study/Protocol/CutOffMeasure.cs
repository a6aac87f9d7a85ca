using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>kind: cut_off — whether a score reaches the cut-off for the person's age.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">A criteria_score.</param>
/// <param name="Age">Measure of age in years.</param>
/// <param name="Rows">Cut-offs by age; ages do not overlap.</param>
/// <remarks>A score with components missing is read by its bounds: below or reached where both ends agree, otherwise missing as "cannot tell".</remarks>
public sealed record CutOffMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Of, string Age, ImmutableArray<CutOffRow> Rows)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>A cut-off for an age.</summary>
/// <param name="AgeFrom">Youngest age in years, included.</param>
/// <param name="AgeTo">Oldest age in years, excluded.</param>
/// <param name="AtLeast">Score that reaches the cut-off.</param>
public sealed record CutOffRow(double AgeFrom, double AgeTo, double AtLeast);
