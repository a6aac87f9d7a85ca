using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>kind: grade — an ordered grade from a column of codes; codes that are no grade of the scale are kept apart from it.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Value">The column, its visit, method and reduction.</param>
/// <param name="ScaleVersion">Which published version of the scale, in words; numbers of grades differ between copies, descriptions do not.</param>
/// <param name="Grades">Grades, lowest first; several codes may share one.</param>
/// <param name="Apart">Codes that are no grade, such as "unable": missing, with their meaning as the reason.</param>
public sealed record GradeMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    ValueMeasure Value, string ScaleVersion, ImmutableArray<GradeStep> Grades, ImmutableArray<string> Apart)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>A grade.</summary>
/// <param name="Label">What it is called.</param>
/// <param name="Codes">Codes of the column that belong to it.</param>
public sealed record GradeStep(string Label, ImmutableArray<string> Codes);
