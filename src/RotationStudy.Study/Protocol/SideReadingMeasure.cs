namespace RotationStudy.Study.Protocol;

/// <summary>kind: side_reading — a test read beside the same test of the other side, so that one positive on both sides is marked.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Positive">When the test is positive; its column is the id of a measure with sides.</param>
/// <param name="MoreBy">Where both sides are positive, the difference from which this side counts as more than the other; null where a difference means nothing.</param>
public sealed record SideReadingMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place, ScoreComponent Positive, double? MoreBy)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
