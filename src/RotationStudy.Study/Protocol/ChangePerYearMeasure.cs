namespace RotationStudy.Study.Protocol;

/// <summary>kind: change_per_year — the last reading minus the first, over the years between them.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Table">Table of the readings.</param>
/// <param name="Column">Column of the readings.</param>
/// <param name="DayTable">Table that gives the day of each visit; null when the readings carry their day.</param>
/// <param name="DayColumn">Column of the day since enrolment.</param>
/// <param name="MethodColumn">Code column of the method; null for none.</param>
/// <param name="Method">The method kept; a change between methods is no change.</param>
/// <param name="LeastDays">Readings closer together than this give no change per year.</param>
/// <param name="HipGate">Whether the hip-first gate applies.</param>
/// <remarks>Readings of one day (several raters) count as their mean. A year has 365.25 days.</remarks>
public sealed record ChangePerYearMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Table, string Column, string? DayTable, string DayColumn, string? MethodColumn, string? Method, int LeastDays, bool HipGate)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
