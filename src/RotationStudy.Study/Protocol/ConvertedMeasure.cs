namespace RotationStudy.Study.Protocol;

/// <summary>kind: converted — values of one method turned into another by a published relation.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">The measure converted: a recorded value that keeps one method.</param>
/// <param name="Relation">The published relation.</param>
public sealed record ConvertedMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place, string Of, MethodRelation Relation)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);

/// <summary>A published straight line between two methods: to = intercept + slope * from, with a scatter about it.</summary>
/// <param name="FromMethod">Code of the method converted.</param>
/// <param name="ToMethod">Name of the method reached.</param>
/// <param name="Intercept">Intercept.</param>
/// <param name="Slope">Slope.</param>
/// <param name="ResidualDeviation">Standard deviation about the line: the error that conversion adds to a single value. Above 0.</param>
/// <param name="Source">Publication.</param>
/// <param name="Evidence">How well it is known; a relation that was only recalled is refused.</param>
public sealed record MethodRelation(
    string FromMethod, string ToMethod, double Intercept, double Slope, double ResidualDeviation, string Source, Evidence Evidence);
