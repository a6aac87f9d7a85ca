namespace RotationStudy.Study.Protocol;

/// <summary>kind: side_mean — the mean of both sides of a participant (and visit), for outcomes that belong to the person.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">The measure of a side.</param>
public sealed record SideMeanMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place, string Of)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
