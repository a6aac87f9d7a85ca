using RotationStudy.Statistics.Curves;

namespace RotationStudy.Study.Protocol;

/// <summary>Curves as they were recorded: a row of the table is one point of one trial.</summary>
/// <param name="Table">Table with one row per participant, side, trial and point of the arc.</param>
/// <param name="Column">Column of the values.</param>
/// <param name="Over">Column of the arc, such as flexion.</param>
/// <param name="Trial">Column that numbers the trials of a side; null where each has one curve.</param>
public sealed record CurveColumn(string Table, string Column, string Over, string? Trial);

/// <summary>kind: curve_summary — one number from the mean curve of a side's trials.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Curves">The curves.</param>
/// <param name="Feature">What is taken from them.</param>
/// <param name="From">Start of the arc, in its unit.</param>
/// <param name="To">End of the arc.</param>
/// <remarks>At each point the mean of the trials that have a value; a point that none has leaves the summary missing.</remarks>
public sealed record CurveSummaryMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    CurveColumn Curves, CurveFeature Feature, double From, double To)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
