namespace RotationStudy.Study.Protocol;

/// <summary>An end of the interval in which a score lies.</summary>
public enum BoundEnd
{
    /// <summary>The lowest score possible.</summary>
    Lowest,

    /// <summary>The highest score possible.</summary>
    Highest,
}

/// <summary>kind: score_bound — the lowest or highest score possible, with components missing or by another count of components.</summary>
/// <param name="Id">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Label">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Unit">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Definition">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Source">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Place">See <see cref="MeasureDefinition"/>.</param>
/// <param name="Of">The score: a criteria_score, whose missing components count as met or not met, or a recorded total.</param>
/// <param name="End">Which end.</param>
/// <param name="MostLost">Points of <paramref name="Of"/> that the other score may not count.</param>
/// <param name="MostGained">Points that the other score may count beyond <paramref name="Of"/>.</param>
/// <param name="HighestPossible">Highest value of the other score.</param>
/// <remarks>Never a single number in place of an interval: a score with components missing is not pro-rated.</remarks>
public sealed record ScoreBoundMeasure(
    string Id, string Label, string? Unit, string? Definition, string? Source, Place Place,
    string Of, BoundEnd End, int MostLost, int MostGained, int HighestPossible)
    : MeasureDefinition(Id, Label, Unit, Definition, Source, Place);
