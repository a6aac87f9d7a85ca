namespace RotationStudy.Study.Protocol;

/// <summary>kind: pair_pattern — how two measures of one side lie to their usual ranges, together.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="First">First measure.</param>
/// <param name="FirstUsual">Its usual range, ends included.</param>
/// <param name="Second">Second measure.</param>
/// <param name="SecondUsual">Its usual range, ends included.</param>
/// <param name="Labels">What the four patterns are called.</param>
public sealed record PairPatternMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string First, ValueRange FirstUsual, string Second, ValueRange SecondUsual, PatternLabels Labels)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>Names of the patterns of two measures.</summary>
/// <param name="BothUsual">Both within their usual range.</param>
/// <param name="OneUnusual">One outside.</param>
/// <param name="SameDirection">Both above, or both below.</param>
/// <param name="OppositeDirections">One above and the other below.</param>
public sealed record PatternLabels(string BothUsual, string OneUnusual, string SameDirection, string OppositeDirections);
